"""How spotty each acrylic plate will look, without the renderer: what can be said, and what cannot.

Opal plates are taken as full diffusers: as bright as they are lit by the light points they see.
Sanded plates are answered where light points stand behind them and shine straight through, from
the table of spots, as an eye straight before them sees them; tilted views down to 30° were less spotty
in the renderer. Light that comes in by an edge, grazes a sanded face or arrives by way of other
parts is beyond this: then it says so. The ratio is the brightest place over the mean around it,
weighted by a bell curve one pitch wide; a light point alone is held against the whole lit face.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import atan2, degrees

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats
from stackview.glow.flux import flux_of
from stackview.glow.illuminance import lit
from stackview.glow.lit_face import LitFace, brightest, direct, faces_lit, feet_of, feet_pitch, towards_next
from stackview.glow.merging import merges_at, word_for
from stackview.glow.offcut import SandedSides
from stackview.glow.sanded_row import LedRow, outside
from stackview.glow.spot_table import spot_of_face
from stackview.light.layout import LightLayout
from stackview.light.points import LightPoints
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed

_PARTS = 4


@dataclass(frozen=True, slots=True, eq=False)
class ShiningPoints:
    """``points`` with ``lumens`` (n,) of each.

    ``own`` (m,) is the flux of the lamp's light points as laid out, ``continuous`` (m,) whether each
    stands for a piece of continuous strip. Read-only.
    """

    points: LightPoints
    lumens: NDArray[np.float64]
    own: NDArray[np.float64]
    continuous: NDArray[np.bool_]

    def __post_init__(self) -> None:
        self.lumens.setflags(write=False)
        self.own.setflags(write=False)
        self.continuous.setflags(write=False)

    def at(self, which: NDArray[np.int64]) -> tuple[LightPoints, NDArray[np.float64]]:
        """Some of the points, with the lumens of each."""
        return taken(self.points, which), self.lumens[which]


def spread_along(light: LightLayout, lumens: NDArray[np.float64]) -> ShiningPoints:
    """Light points as laid out, but four for each one of a continuous strip, along its spacing.

    A continuous strip counts as a light point every 5 mm; taken as points, it would show spots
    that it does not have.
    """
    points = light.points
    spacing = np.zeros(len(points))
    for source, one in enumerate(light.lit):
        strip = one.light.layout.strip
        if strip is not None and strip.continuous:
            spacing[points.source == source] = strip.spacing
    count = np.where(spacing > 0.0, _PARTS, 1)
    index = np.repeat(np.arange(len(points)), count)
    number = np.arange(len(index)) - np.repeat(np.cumsum(count) - count, count)
    shift = np.where(count[index] > 1, ((number + 0.5) / _PARTS - 0.5) * spacing[index], 0.0)
    along = np.zeros((len(points), 3))
    if points.corners.shape[1] == 4:
        along = points.corners[:, 1] - points.corners[:, 0]
        along = along / np.maximum(np.linalg.norm(along, axis=1, keepdims=True), 1e-12)
    spread = replace(taken(points, index), centres=points.centres[index] + shift[:, None] * along[index])
    return ShiningPoints(spread, np.asarray(lumens)[index] / count[index], np.array(lumens), spacing > 0.0)


def taken(points: LightPoints, which: NDArray[np.int64]) -> LightPoints:
    """Some light points, in the order given; one may be taken more than once."""
    return LightPoints(
        centres=points.centres[which],
        directions=points.directions[which],
        corners=points.corners[which],
        beams=points.beams[which],
        lumens=points.lumens[which],
        kelvin=points.kelvin[which],
        source=points.source[which],
    )


_Light = Callable[[Floats], tuple[Floats, NDArray[np.bool_]]]
"""Brightness at places (n, 3) of a face in any unit, (n,), and which of them lie out of the shade, (n,)."""
UNKNOWN, UNLIT = "not known", "not lit"
STEEPEST = 30.0
"""An eye that looks at a sanded face flatter than this [°] sees what was not tried."""
_SHARE = 0.05
"""Light points count for a plate from this share of the strongest one's light at its brightest place."""
_NEIGHBOUR = 0.002
"""The pitch is that of light points from this share on."""
_SHADED = 0.9
"""A place that gets less than this share of what it would get with nothing in the way is in the shade."""
_LEAST_OPEN = 0.3
"""Share of the surround that must be free of shade."""
_FAINT = 1e-3
_STRAIGHT = 30.0
"""Most that a light point may lean from square to a sanded sheet [°]."""
_ACROSS = 15
_REACH = 2.5
"""The surround is looked at this many pitches each way."""
_WAVE = 24
_LONE = 40


@dataclass(frozen=True, slots=True)
class Estimate:
    """One plate's outlook. Lengths in mm; ``ratio`` None where it is not known, ``why`` says why.

    ``pitch`` is that of the light points as they stand over the face, None for one alone;
    ``distance`` from the brightest place to the nearest light point; ``merges_at`` the distance
    from which an eye no longer tells the spots apart, infinite where no room is long enough, None
    where not known.
    """

    layer: str
    pitch: float | None
    distance: float | None
    finish: str
    ratio: float | None
    word: str
    merges_at: float | None
    why: str
    strip: bool = False
    """Whether the light is a continuous strip's, which has no spots of its own: only bright places."""


@dataclass(frozen=True, slots=True, eq=False)
class _Spot:
    """What is known of a plate so far, its brightest place (3,), and the step to the next one (3,)."""

    known: Estimate
    face: LitFace
    place: Floats
    step: Floats


def estimates(stack: Stack, light: LightLayout) -> tuple[Estimate, ...]:
    """An estimate for every acrylic layer, from the bottom up; none where no light is described."""
    points = light.points
    if not len(points):
        return ()
    shining = spread_along(light, flux_of(light).lumens)
    return tuple(
        _of_plate(plate, stack, points, shining)
        for plate in stack.placed
        if plate.is_layer and not plate.opaque
    )


def _of_plate(plate: Placed, stack: Stack, points: LightPoints, shining: ShiningPoints) -> Estimate:
    finish = plate.level_sort
    lumens = shining.own
    best: tuple[float, LitFace, Floats] | None = None
    for face in faces_lit(plate, tuple(part for part in stack.placed if part is not plate)):
        place = brightest(face, points, lumens)
        if place is not None:
            level = float(direct(face, points, lumens, place[None]).sum())
            if best is None or level > best[0]:
                best = (level, face, place)
    if best is None:
        why = "no light point shines on its faces directly: light reaches it by its edges or other parts"
        return Estimate(plate.name, None, None, finish, None, UNLIT, None, why)
    _, face, place = best
    share = direct(face, points, lumens, place[None])[:, 0]
    chosen = np.flatnonzero(share >= _SHARE * share.max())
    near = np.flatnonzero(share >= _NEIGHBOUR * share.max())
    feet = feet_of(face, points, near)
    pitch = feet_pitch(feet)
    distance = float(np.linalg.norm(points.centres[chosen] - place, axis=1).min())
    strip = bool(shining.continuous[chosen].all())
    known = Estimate(plate.name, pitch, distance, finish, None, UNKNOWN, None, "", strip)
    if finish == "clear":
        return replace(known, word="single LEDs", why="clear acrylic spreads nothing")
    spot = _Spot(known, face, place, towards_next(feet, place) * pitch if pitch else np.zeros(3))
    if finish == "opal":
        return _opal(spot, shining)
    reason = _sanded_outside(face, stack, points, chosen, pitch)
    if reason is not None:
        return replace(known, why=reason)
    return _sanded(spot, taken(points, near), lumens[near])


def _opal(spot: _Spot, shining: ShiningPoints) -> Estimate:
    face, place = spot.face, spot.place
    # Light points that give next to nothing where it is brightest are left out, for speed.
    normal = np.broadcast_to(face.normal, (1, 3))
    strength = lit(shining.points, shining.lumens, place[None], normal)[:, 0]
    points, lumens = shining.at(np.flatnonzero(strength > _FAINT * strength.max(initial=0.0)))

    def light(places: Floats) -> tuple[Floats, NDArray[np.bool_]]:
        normals = np.broadcast_to(face.normal, places.shape)
        free = lit(points, lumens, places, normals).sum(axis=0)
        values = direct(face, points, lumens, places).sum(axis=0)
        return np.asarray(values), np.asarray(values > _SHADED * free)

    why = "as a full diffuser, lit directly only; what opal sheet lets straight through comes on top"
    return _judged(spot, light, why)


def _sanded(spot: _Spot, points: LightPoints, lumens: Floats) -> Estimate:
    face, plate = spot.face, spot.face.plate
    thickness, sides, roughness = plate.top - plate.underside, _sides(face), plate.material.optics.roughness
    away = np.abs(points.centres[:, 2] - face.height)
    sizes = _face_radius(points)

    def light(places: Floats) -> tuple[Floats, NDArray[np.bool_]]:
        total = np.zeros(len(places))
        for centre, distance, size, power in zip(points.centres, away, sizes, lumens, strict=True):
            aside = np.linalg.norm((places - centre)[:, :2], axis=1) / distance
            shape = spot_of_face(aside, roughness, thickness / distance, sides, size / distance)
            total += power / distance**2 * shape
        return total, np.ones(len(places), np.bool_)

    source = "as given" if "roughness" in plate.material.optics.given else "assumed"
    return _judged(spot, light, f"seen straight on, roughness {roughness:g} {source}")


def _judged(spot: _Spot, light: _Light, why: str) -> Estimate:
    known = spot.known
    if known.pitch is None:
        alone = _against_all(spot.face, spot.place, light)
        return replace(known, word=word_for(alone), ratio=alone, why=f"one spot alone, {why}")
    ratio = _around(spot.face, spot.place, known.pitch, light)
    if ratio is None:
        return replace(known, why="other parts shade most of what is round its brightest place")
    modulation = _ripple(spot, light)
    merges = None if modulation is None else merges_at(known.pitch, modulation)
    return replace(known, word=word_for(ratio), ratio=ratio, merges_at=merges, why=why)


def _around(face: LitFace, place: Floats, pitch: float, light: _Light) -> float | None:
    """Hot-spot ratio about the brightest place; None where too little round it is free of shade."""
    side = np.linspace(-_REACH * pitch, _REACH * pitch, _ACROSS)
    grid = np.stack(np.meshgrid(side, side), axis=-1).reshape(-1, 2)
    places = np.column_stack([place[:2] + grid, np.full(len(grid), place[2])])
    on = face.holds(places)
    values, open_ = light(places[on])
    weights = np.exp(-0.5 * (grid[on] ** 2).sum(axis=1) / pitch**2)
    mean = float(values @ (weights * open_))
    if mean <= 0.0 or float(weights @ open_) < _LEAST_OPEN * float(weights.sum()):
        return None
    peak = max(float(light(place[None])[0][0]), float(values[open_].max(initial=0.0)))
    return peak * float(weights @ open_) / mean


def _ripple(spot: _Spot, light: _Light) -> float | None:
    """The ripple's first harmonic over its mean, along the row, one pitch each way.

    Weighted by a raised cosine, so that a slope along the line counts for nothing. None where the
    line leaves the face or meets shade.
    """
    along = (np.arange(2 * _WAVE) + 0.5) / _WAVE - 1.0
    window = 1.0 + np.cos(np.pi * along)
    places = spot.place + along[:, None] * spot.step
    if not spot.face.holds(places).all():
        return None
    values, open_ = light(places)
    mean = float(values @ window)
    if mean <= 0.0 or not open_.all():
        return None
    return min(2.0 * abs(complex(values @ (window * np.exp(2j * np.pi * along)))) / mean, 2.0)


def _against_all(face: LitFace, place: Floats, light: _Light) -> float:
    """A lone spot's brightest place over the mean of all that is lit of the face."""
    vertices = face.plate.solid.vertices
    x, y = (np.linspace(vertices[:, k].min(), vertices[:, k].max(), _LONE) for k in (0, 1))
    places = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    level = np.column_stack([places, np.full(len(places), face.height)])
    values, open_ = light(level[face.holds(level)])
    values = values[open_ & (values > 0.0)]
    peak = max(float(light(place[None])[0][0]), float(values.max(initial=0.0)))
    return peak / float(values.mean()) if len(values) else 1.0


def _sides(face: LitFace) -> SandedSides:
    """Which faces of a plate are sanded, told from the side that is lit."""
    finish = face.plate.finish
    top, underside, _ = finish.sanded
    near, far = (top, underside) if face.up else (underside, top)
    if near == far:
        return "both"
    return "lamp-side" if near else "eye-side"


def _face_radius(points: LightPoints) -> Floats:
    """Radius of a disc as large as each light-giving face [mm]."""
    corners = points.corners
    if corners.shape[1] < 4:
        return np.zeros(len(points))
    sides = corners[:, 1] - corners[:, 0], corners[:, 3] - corners[:, 0]
    return np.asarray(np.sqrt(np.linalg.norm(np.cross(*sides), axis=1) / np.pi))


def _sanded_outside(
    face: LitFace, stack: Stack, points: LightPoints, chosen: NDArray[np.int64], pitch: float | None
) -> str | None:
    """Why the table of spots does not answer for a sanded plate; None where it does."""
    lean = -(points.directions[chosen] @ face.normal)
    feet = points.centres[chosen].copy()
    feet[:, 2] = face.height
    if (lean < np.cos(np.radians(_STRAIGHT))).any() or not face.holds(feet).all():
        return "light grazes it from beside, which only a rendering can follow"
    plate = face.plate
    away = np.abs(points.centres[chosen, 2] - face.height)
    thickness = plate.top - plate.underside
    for distance in (float(away.min()), float(away.max())):
        row = LedRow(pitch or distance, distance, thickness)
        reason = outside(row, plate.material.optics.roughness)
        if reason is not None:
            return reason
    # Seen from the far side of the lit face.
    sign = -1.0 if face.up else 1.0
    middle = stack.floor + face.height
    steepest = max(
        (sign * degrees(atan2(eye.height - middle, eye.distance)) for eye in stack.lamp.eyes), default=90.0
    )
    if steepest < STEEPEST:
        return f"no named eye looks through it steeper than {STEEPEST:g}°, and flatter views were not tried"
    return None
