"""Light points that show by way of a level clear plate: through it, mirrored in it, or mirrored in its far face.

Plates lie level, so that such a line stays in one upright plane, and how steep it begins follows from Snell's law
alone (one root, found by Newton's steps; the share of what arrives is that of a bundle of such lines, Born & Wolf,
*Principles of Optics*, §1.5 and §3.2). A face that spreads light is joined so to light points that stand behind a
clear plate, where ways from either side would come upon them by luck only. Everything else that clear faces do, by a
rim or mirrored more often, is left to that luck.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Singles, Whole, Yes
from stackview.glow.microsurface import reflected_share
from stackview.sight.refraction import INDEX, dot
from stackview.spots.faces import Faces
from stackview.spots.inwards import OFF_A_FACE
from stackview.spots.ways import lines_met

_STEPS = 5
"""Newton's steps: from below, each nearer to the root."""
_NEXT = np.float32(0.4)
"""Share of the lines that are tried by the next plate above, and below; the rest by any plate alike."""
_NONE, _THROUGH, _NEAR, _FAR = 0, 1, 2, 3
"""No such line; through the plate, mirrored in its near face, mirrored in its far one."""
_SAME = np.float32(0.01)
"""How far a face may lie from where it is looked for [mm]."""
_SHORT = np.float32(0.02)
_SLOPED = np.float32(1e-6)


@dataclass(frozen=True, slots=True, eq=False)
class ByClear:
    """Lines (n,) by way of a plate, as they begin.

    kind : of the line; low, high : the plate's heights [mm]; to, comes : unit directions (3, n) in which it begins
    and comes to the light point; air : its length in air [mm]; gives : L·A·cosθ of the light point, per area that it
    is seen by, times what the faces let pass [cd/m²·sr].
    """

    kind: Whole
    low: Singles
    high: Singles
    to: Singles
    comes: Singles
    air: Singles
    gives: Singles

    def only(self, which: Whole) -> "ByClear":
        """Some of them."""
        return ByClear(*(getattr(self, name).take(which, axis=-1) for name in self.__slots__))


@dataclass(frozen=True, slots=True, eq=False)
class ClearPlates:
    """Level clear plates (p,): heights of their faces from the bottom up [mm]. Read-only."""

    low: Singles
    high: Singles

    @property
    def any(self) -> bool:
        """Whether there are any."""
        return len(self.low) > 0

    def drawn(self, height: Singles, chance: np.random.Generator) -> tuple[Whole, Singles]:
        """One of the plates for each height (n,), and the chance with which it was drawn."""
        plates, count = len(self.low), len(height)
        above = np.searchsorted(self.low, height)
        below = above - 1
        pick = chance.random(count, np.float32)
        any_one = ((pick - 2.0 * _NEXT) * (plates / (1.0 - 2.0 * _NEXT))).astype(np.int64)
        which = np.where(pick < _NEXT, above, np.where(pick < 2.0 * _NEXT, below, any_one))
        which = np.minimum(np.maximum(which, 0), plates - 1)
        # Beyond the top and the bottom the last one stands for the next one too.
        share = np.where(which == np.minimum(above, plates - 1), _NEXT, np.float32(0.0))
        share += np.where(which == np.maximum(below, 0), _NEXT, np.float32(0.0))
        return which, np.asarray(share + (1.0 - 2.0 * _NEXT) / np.float32(plates), np.float32)

    def lines(
        self, plate: Whole, far: Yes, begin: Singles, place: Singles, normal: Singles, strength: Singles
    ) -> ByClear:
        """From places (3, n) by plates to places on light points, whose ``strength`` L·A [cd/m²·mm²] shines about normals.

        On the same side of a plate, one of its faces mirrors: the ``far`` one or the near one, drawn alike, so that
        each stands for twice its light.
        """
        low, high = self.low[plate], self.high[plate]
        start, end = begin[2], place[2]
        above, under = (start > high) & (end > high), (start < low) & (end < low)
        across = ((start > high) & (end < low)) | ((start < low) & (end > high))
        kind = np.where(across, _THROUGH, np.where(above | under, np.where(far, _FAR, _NEAR), _NONE))
        face = np.where(start > high, high, low)
        rise = np.where(across, np.abs(end - start) - (high - low), np.abs(start - face) + np.abs(end - face))
        rise = np.maximum(rise, np.float32(1e-3))
        thick = np.where(kind == _THROUGH, high - low, np.where(kind == _FAR, 2.0 * (high - low), 0.0))
        away = place[:2] - begin[:2]
        level = np.maximum(np.sqrt(away[0] * away[0] + away[1] * away[1]), _SLOPED)
        slope, bundle = steepness(level, rise, np.asarray(thick, np.float32))
        upright = 1.0 / np.sqrt(1.0 + slope * slope)
        side = np.where(start > high, -upright, upright)
        along = away / level * (slope * upright)
        to = np.stack([along[0], along[1], side])
        comes = np.stack([along[0], along[1], np.where(across, side, -side)]).astype(np.float32)
        mirrored, _ = reflected_share(upright, np.full(upright.shape, 1.0 / INDEX, np.float32))
        passed = 1.0 - mirrored
        lets = np.choose(kind, [np.zeros_like(passed), passed**2, 2.0 * mirrored, 2.0 * passed**2 * mirrored])
        cosine = np.maximum(-dot(comes, normal), np.float32(0.0))
        gives = strength * cosine * bundle * lets
        return ByClear(
            kind, low, high, *(np.asarray(own, np.float32) for own in (to, comes, rise / upright, gives))
        )


def steepness(level: Singles, rise: Singles, thick: Singles) -> tuple[Singles, Singles]:
    """Tangent (n,) of the angle in air from the upright of a line over ``level``, and its solid angle over area [1/mm²].

    The line rises by ``rise`` in air and ``thick`` in acrylic [mm]: level = rise·t + thick·t/√(n² + (n² − 1)t²), by
    Snell's law. A bundle of such lines about one spreads over dω/dA = (t/level)/((1 + t²)·d level/dt), square to it.
    """
    square = np.float32(INDEX * INDEX)
    slope = level / (rise + thick / np.float32(INDEX))
    for step in range(_STEPS):
        under = square + (square - 1.0) * slope * slope
        root = np.sqrt(under)
        growth = rise + thick * square / (under * root)
        if step < _STEPS - 1:
            slope = slope + (level - rise * slope - thick * slope / root) / growth
    bundle = slope / (level * growth * (1.0 + slope * slope))
    return np.asarray(slope, np.float32), np.asarray(bundle, np.float32)


def clear_plates(faces: Faces) -> ClearPlates:
    """The lamp's level clear plates, from the faces that :attr:`Faces.level` tells."""
    parts = np.unique(faces.part[faces.level])
    heights = [faces.heights[:, faces.level & (faces.part == part)] for part in parts]
    found = sorted((float(own.min()), float(own.max())) for own in heights)
    low, high = np.array(found, np.float32).reshape(-1, 2).T.copy()
    return ClearPlates(low, high)


def unblocked(faces: Faces, begin: Singles, lines: ByClear) -> Yes:
    """Whether each line meets its plate's faces and, but for them, nothing, followed from ``begin`` (3, n)."""
    enters = _level_met(faces, begin, lines.to, inside=False)
    near = np.where(lines.to[2] > 0.0, lines.low, lines.high)[enters.which]
    enters = enters.only(np.flatnonzero(np.abs(enters.at[2] - near) < _SAME))
    own = lines.only(enters.which)
    way = np.concatenate([own.to[:2] / np.float32(INDEX), np.sign(own.to[2:])])
    way[2] *= np.sqrt(1.0 - way[0] * way[0] - way[1] * way[1])
    mirrored, within = np.flatnonzero(own.kind == _NEAR), np.flatnonzero(own.kind != _NEAR)
    second = _level_met(faces, enters.within[:, within], way[:, within], inside=True)
    within = within[second.which]
    passes, turned = (np.flatnonzero(own.kind[within] == kind) for kind in (_THROUGH, _FAR))
    back = way[:, within[turned]] * np.array([[1.0], [1.0], [-1.0]], np.float32)
    third = _level_met(faces, second.within[:, turned], back, inside=True)
    leaves = np.concatenate([enters.without[:, mirrored], second.without[:, passes], third.without], axis=1)
    which = np.concatenate([mirrored, within[passes], within[turned][third.which]])
    left = own.air[which] - enters.distance[which]
    blocked = faces.target.blocked(
        np.ascontiguousarray(leaves.T),
        np.ascontiguousarray(own.comes[:, which].T),
        np.maximum(left - _SHORT, np.float32(1e-3)),
    )
    found = np.zeros(len(lines.kind), np.bool_)
    found[enters.which[which[~blocked]]] = True
    return found


@dataclass(frozen=True, slots=True, eq=False)
class _LevelMet:
    """Which lines (n,) met a level clear face; where, the face's outward normal (3, n), and after how far [mm]."""

    which: Whole
    at: Singles
    flat: Singles
    distance: Singles

    def only(self, some: Whole) -> "_LevelMet":
        return _LevelMet(*(getattr(self, name).take(some, axis=-1) for name in self.__slots__))

    @property
    def without(self) -> Singles:
        return np.asarray(self.at + OFF_A_FACE * self.flat, np.float32)

    @property
    def within(self) -> Singles:
        return np.asarray(self.at - OFF_A_FACE * self.flat, np.float32)


def _level_met(faces: Faces, begin: Singles, way: Singles, *, inside: bool) -> _LevelMet:
    which, distance, met = lines_met(faces, begin, way)
    good = np.flatnonzero(faces.level[met.triangle] & (met.inside == inside))
    which, distance = which[good], distance[good]
    at = begin.take(which, axis=1) + distance * way.take(which, axis=1)
    return _LevelMet(which, at, met.flat.take(good, axis=1), distance)
