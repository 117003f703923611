"""Light that falls on the lamp's matt faces by way of clear acrylic or mirrors, caught there before eyes look.

A rim, a bore and a plate that leads light bring it to the wood beside and before them, above all to the wood that a
clear plate is glued to. Followed from an eye, such light would be come upon by luck alone; followed from the light
points to the eye, few ways get there. So it is followed from the light points as far as the first face that spreads
it, and kept there by small pieces of each triangle (photons on a map: H. W. Jensen, "Global illumination using photon
maps", EGWR 1996; pieces of known area instead of a search, so that none of it is lost at edges). It is kept for each
group of an eye's ways by itself, so that the groups tell what of it is chance. What one level clear plate brings is
left to :mod:`stackview.spots.by_clear`.
"""

from dataclasses import dataclass, field

import numpy as np

from stackview.arrays import Ints, Singles, Whole, Yes
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene
from stackview.glow.seen_light import LOTS
from stackview.light.colour import Colour
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.refraction import INDEX
from stackview.spots.at_faces import JoinsNothing, unspread_work
from stackview.spots.faces import Does, Faces, optical_faces
from stackview.spots.light_choice import Emitters, set_out
from stackview.spots.ways import FacesMet, Going, begun, follow

_WAYS, _BATCH = 65_536, 32_768
_PIECE = 1.0
"""About so large are the pieces of a triangle [mm²]; of 9 mm² they took a seventh of its light from a plate that shows
what is brightest beside a bore."""
_MOST = 128
"""A side of a triangle is cut into so many at most."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class CaughtLight:
    """Triangles (m,) of a lamp, and what falls on their pieces by clear acrylic. Read-only.

    The first pieces are the light points' own faces, each as a whole. first : (m,) each triangle's first piece, −1
    where such light is not known; sides : (m,) into how many its sides are cut; lit : (k,) the pieces that it falls on,
    in order; light : (groups, k) on each [cd/m²·sr], their mean the whole, over n² where it arrives within acrylic, as
    luminance over n² is kept along ways; led : (k,) a light point that it came from.
    """

    first: Ints
    sides: Ints
    lit: Whole
    light: Singles
    led: Ints

    __repr__ = one_line

    def known(self, triangle: Ints, own: Ints) -> Yes:
        """On which triangles (n,) such light is known; ``own`` is the light point whose face each is, else −1."""
        within = triangle < len(self.first)
        return np.asarray((own >= 0) | (within & (self.first[np.where(within, triangle, 0)] >= 0)))

    def pieces(self, triangle: Ints, own: Ints, place: Singles) -> Whole:
        """The pieces at places (2, n) on triangles (n,) where it is known."""
        return _pieces(self.first, self.sides, triangle, own, place)

    def on(self, piece: Whole) -> tuple[Yes, Whole]:
        """Which pieces (n,) light falls on, and of these where they stand in ``light``."""
        if not len(self.lit):
            return np.zeros(len(piece), np.bool_), np.zeros(0, np.int64)
        at = np.minimum(np.searchsorted(self.lit, piece), len(self.lit) - 1)
        found = self.lit[at] == piece
        return found, at[found]


def _pieces(first: Ints, sides: Ints, triangle: Ints, own: Ints, place: Singles) -> Whole:
    triangle = np.where(own >= 0, 0, triangle)
    cut = sides[triangle]
    u, v = np.clip(place, np.float32(0.0), np.float32(0.999999)) * cut
    i, j = u.astype(np.int64), v.astype(np.int64)
    piece = first[triangle] + 2 * (i * cut + j) + ((u - i) + (v - j) > 1.0)
    return np.where(own >= 0, own, piece).astype(np.int64)


def caught_light(
    scene: GlowScene, points: LightPoints, colour: Colour, emitters: Emitters
) -> CaughtLight | None:
    """Follow light of the lamp alone as far as it goes unspread; None where no face passes or mirrors it so."""
    faces = optical_faces(scene, Room(), points, colour)
    if not faces.unspread:
        return None
    areas = np.concatenate([_areas(body.vertices[body.triangles]) for body in scene.bodies])
    keeps = (faces.does[: len(areas)] == Does.MATT) & (areas > 0.0)
    sides = np.clip(np.ceil(np.sqrt(areas / _PIECE)), 1, _MOST).astype(np.int32)
    # Two triangles to each square of a triangle's sides, half of which lie beyond it.
    needs = np.where(keeps, 2 * sides.astype(np.int64) ** 2, 0)
    first = np.where(keeps, len(emitters) + np.cumsum(needs) - needs, -1).astype(np.int32)
    found = _followed(faces, first, sides, emitters)
    lit, which = np.unique(found.piece, return_inverse=True)
    owner = np.searchsorted(np.cumsum(needs), lit - len(emitters), side="right")
    area = np.where(
        lit < len(emitters),
        emitters.area[np.minimum(lit, len(emitters) - 1)],
        (areas / sides.astype(np.float64) ** 2)[np.minimum(owner, len(areas) - 1)],
    )
    own = found.group * len(lit) + which
    light = np.bincount(own, found.flux, minlength=LOTS * len(lit)).reshape(LOTS, len(lit)) * LOTS / area
    led = np.zeros(len(lit), np.int32)
    led[which] = found.led
    caught = CaughtLight(first, sides, lit, np.asarray(light, np.float32), led)
    for name in CaughtLight.__slots__:
        getattr(caught, name).setflags(write=False)
    return caught


def _followed(faces: Faces, first: Ints, sides: Ints, emitters: Emitters) -> "_Found":
    chance = np.random.Generator(np.random.SFC64([23, 1]))
    own = _Catching(faces, first, sides)
    work = unspread_work(faces, own, chance)
    flux = np.pi * float(emitters.luminance.astype(np.float64) @ emitters.area)
    for _ in range(_WAYS // _BATCH):
        own.led, at, travel = set_out(emitters, _BATCH, chance)
        own.group = chance.permutation(_BATCH) % LOTS
        weight = np.full(_BATCH, flux / _WAYS, np.float32)
        follow(faces, own, work, begun(at, travel, weight, np.arange(_BATCH, dtype=np.int32)), chance)
    return own.all_found


def _areas(corners: np.ndarray) -> np.ndarray:
    """Of triangles (m, 3, 3) [mm²]."""
    a, b, c = (corners[:, k] for k in range(3))
    return np.asarray(np.linalg.norm(np.cross(b - a, c - a), axis=1) / 2.0)


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """Light (n,) that came to pieces: flux [cd/m²·mm²·sr], of which light point, in which group."""

    piece: Whole
    flux: Singles
    led: Ints
    group: Whole


@dataclass(slots=True, eq=False)
class _Catching(JoinsNothing):
    """Takes in what comes unspread, by more than air and other than by one level plate."""

    faces: Faces
    first: Ints
    sides: Ints
    led: Ints = field(default_factory=lambda: np.zeros(0, np.int32))
    group: Whole = field(default_factory=lambda: np.zeros(0, np.int64))
    found: list[_Found] = field(default_factory=list)

    @property
    def all_found(self) -> _Found:
        """All of it."""
        if not self.found:
            none = np.zeros(0, np.int64)
            return _Found(none, np.zeros(0, np.float32), np.zeros(0, np.int32), none)
        return _Found(
            *(np.concatenate([getattr(one, name) for one in self.found]) for name in _Found.__slots__)
        )

    def come_upon(self, going: Going, met: FacesMet) -> None:
        """Take in what comes to matt faces; what a face has spread goes no further."""
        led = self.faces.led[met.triangle]
        # A lamp alone: beyond its own triangles there are only the light points' faces.
        kept = (led >= 0) | (self.first[np.minimum(met.triangle, len(self.first) - 1)] >= 0)
        some = np.flatnonzero(kept & going.plain & going.began_straight & ~going.by_a_plate)
        if len(some):
            piece = _pieces(self.first, self.sides, met.triangle[some], led[some], met.place[:, some])
            within = np.where(going.within[some], np.float32(1.0 / INDEX**2), np.float32(1.0))
            way = going.origin[some]
            self.found.append(_Found(piece, going.weight[some] * within, self.led[way], self.group[way]))
        going.weight = np.where(going.plain, going.weight, np.float32(0.0))

    def after_first(self, going: Going) -> Going:
        """What air alone brings is joined."""
        return going.only(going.began_straight)
