"""What carries what: under every part, and every piece of it, the area that it stands on.

A part stands on what its level faces meet at their own height. From that area follow how much carries
it, how narrow that is, and, by statics, whether it stays: the centre of mass of a body at rest
lies over the convex hull of what it stands on (Varignon's theorem of moments; any textbook of statics).
"""

from bisect import bisect
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf

import shapely
from shapely.geometry.base import BaseGeometry

from stackview.by_value import by_value, mark
from stackview.description.lamp import Lamp
from stackview.kept import kept
from stackview.one_line import one_line
from stackview.solids.level_faces import SLIVER, LevelFace
from stackview.solids.measure import centre_of_mass
from stackview.solids.solid import Solid
from stackview.stack.faced import FacedPart, faced, shaped
from stackview.stack.footing import hull_margin, width_of
from stackview.stack.placed import Placed
from stackview.stack.seating import Seat

_LEVEL = 1e-6
"""Faces within this height of each other touch [mm]."""
LEAST = 0.05
"""A part stands on no less than this [mm²]."""
_KEPT = 4_000_000
"""Areas that pairs of faces share, kept for further variants of a lamp [bytes]."""


@dataclass(frozen=True, eq=False, repr=False)
class Support:
    """One piece of a part, and the area that carries it.

    ``area`` is empty where nothing carries it; ``drop`` then says how far it falls [mm], and
    ``onto`` what: a part, or nothing but what the lamp stands on where it is None. A bevel or an
    edge that catches it on the way has no level face to say how far: then ``drop`` is None.
    """

    part: Placed
    piece: int
    """Which of the part's pieces it is, from 0."""
    solid: Solid
    """The piece by itself, at the height where it was made."""
    area: BaseGeometry
    on: tuple[str, ...]
    """The parts that carry it."""
    drop: float | None = 0.0
    onto: str | None = None

    @property
    def centre(self) -> tuple[float, float]:
        """Where its centre of mass lies, seen from above (x, y) [mm]."""
        x, y, _ = centre_of_mass(self.solid)
        return x, y

    @property
    def carried(self) -> bool:
        """Whether anything carries it at all."""
        return bool(self.on)

    @kept
    def margin(self) -> float:
        """How far its centre of mass lies inside the hull of what carries it; negative outside, −∞ in the air [mm]."""
        return hull_margin(self.area, self.centre)

    def width(self, most: float) -> float:
        """How wide the widest place is of what carries it: the largest circle in it, up to ``most`` [mm]."""
        return width_of(self.area, most)

    def __repr__(self) -> str:
        """One line, without the area."""
        on = ", ".join(self.on) or "nothing"
        return f'Support("{self.part.name}", piece {self.piece}, {self.area.area:.1f} mm² on {on})'


@dataclass(frozen=True, slots=True)
class Load:
    """A part with all that stands on it and on nothing else: how far their centre of mass lies inside the hull."""

    part: str
    carries: tuple[str, ...]
    """What it is loaded with, from the bottom up; empty where it carries nothing by itself."""
    margin: float
    """Negative outside the hull of what carries the part [mm]."""

    __repr__ = one_line


@dataclass(frozen=True, eq=False, repr=False)
class Supports:
    """What carries every part of one lamp, each part of the answer worked out when first asked."""

    lamp: Lamp
    placed: tuple[Placed, ...]
    seats: tuple[Seat, ...]

    @kept
    def _standing(self) -> list[FacedPart]:
        return [faced(part, shape) for part, shape in shaped(self.lamp, self.placed) if not part.is_foot]

    @kept
    def pieces(self) -> tuple[Support, ...]:
        """Every piece of every layer but the lowest, of core and posts."""
        lamp, standing = self.lamp, self._standing
        hung = "core" if lamp.core is not None and lamp.core.stands_on is None else None
        firm = [body for body in standing if body.part.name != hung]
        floor = -inf if lamp.hangs_at is not None else 0.0
        tops = _Tops(firm)
        return tuple(
            support
            for body in standing[1:]
            if body.part.name != hung
            for support in _carried(body, tops, [other for other in firm if other is not body], floor)
        )

    @kept
    def feet(self) -> tuple[Support, ...]:
        """Every foot, with the area of the lowest layer that lies on it."""
        feet = [(part, shape) for part, shape in shaped(self.lamp, self.placed) if part.is_foot]
        if not feet:
            return ()
        lowest = faced(*next(iter(shaped(self.lamp, self.placed))))
        return tuple(foot for part, shape in feet for foot in _under(faced(part, shape), lowest))

    @kept
    def loads(self) -> tuple[Load, ...]:
        """Every part with what stands on it alone."""
        return _loads(self._standing, self.pieces)

    @kept
    def passed(self) -> tuple[tuple[str, str], ...]:
        """Layers that lie in an opening of the layer they were put on, and hold nothing up, with that layer."""
        return _passed(self.seats, self._standing[: len(self.lamp.layers)], self.pieces)

    @kept
    def _of(self) -> dict[str, tuple[Support, ...]]:
        found: dict[str, list[Support]] = {}
        for support in (*self.pieces, *self.feet):
            found.setdefault(support.part.name, []).append(support)
        return {name: tuple(some) for name, some in found.items()}

    def of(self, name: str) -> tuple[Support, ...]:
        """Every piece of one part."""
        return self._of.get(name, ())

    def __repr__(self) -> str:
        """One line."""
        floating = sum(not support.carried for support in (*self.pieces, *self.feet))
        return f"Supports({len(self.pieces)} pieces, {len(self.feet)} feet, on nothing: {floating})"


@by_value(
    _KEPT,
    size=lambda area: int(16 * shapely.get_num_coordinates(area)),
    key=lambda one, other: (mark(one), mark(other)),
)
def _shared(lower: LevelFace, upper: LevelFace) -> BaseGeometry:
    """The area that two faces share, without slivers between facets of equal curves."""
    parts = shapely.get_parts(lower.area.intersection(upper.area))
    kept = [
        part
        for part in parts
        if part.geom_type == "Polygon" and part.area > 0.0 and not part.buffer(-0.5 * SLIVER).is_empty
    ]
    return shapely.union_all(kept) if kept else shapely.Polygon()


class _Tops:
    """Which bodies have a top at a height: of many layers a part meets few."""

    def __init__(self, bodies: Sequence[FacedPart]) -> None:
        self._bodies = bodies
        self._heights = sorted(
            (body.part.underside + face.height, number)
            for number, body in enumerate(bodies)
            for faces in body.tops
            for face in faces
        )

    def beside(self, body: FacedPart, faces: Sequence[LevelFace]) -> list[FacedPart]:
        """The other bodies of which a top may meet one of these faces of a body, in their order."""
        found: set[int] = set()
        for face in faces:
            height = body.part.underside + face.height
            first, last = (
                bisect(self._heights, (height + slack,)) for slack in (-2.0 * _LEVEL, 2.0 * _LEVEL)
            )
            found.update(number for _, number in self._heights[first:last])
        return [self._bodies[number] for number in sorted(found) if self._bodies[number] is not body]


def _carried(body: FacedPart, tops: _Tops, others: Sequence[FacedPart], floor: float) -> Iterable[Support]:
    for piece, faces in enumerate(body.undersides):
        areas, on = [], []
        for other in tops.beside(body, faces):
            met = [area for area in _met(body, faces, other) if area.area >= LEAST]
            if met:
                areas += met
                on.append(other.part.name)
        solid = body.pieces[piece]
        if on:
            yield Support(body.part, piece, solid, shapely.union_all(areas), tuple(on))
            continue
        onto, there = _lands(body, faces, others)
        bottom = body.part.underside + min((face.height for face in faces), default=0.0)
        caught = _caught(body, piece, others, max(there, 0.0))
        drop = None if caught else bottom - max(there, floor)
        yield Support(body.part, piece, solid, shapely.Polygon(), (), drop, caught or onto)


def _caught(body: FacedPart, piece: int, others: Sequence[FacedPart], down_to: float) -> str | None:
    """The part whose bevel or groove catches a falling piece before it comes to that height, if any."""
    for other in others:
        for top in (top for tops in other.sharp("top") for top in tops):
            height = other.part.underside + top.height
            for face in body.sharp("underside")[piece]:
                on_the_way = down_to + _LEVEL < height <= body.part.underside + face.height + _LEVEL
                if on_the_way and _overlap(face.area, top.area):
                    return other.part.name
    return None


def _overlap(one: BaseGeometry, other: BaseGeometry) -> bool:
    return not one.intersection(other).buffer(-0.5 * SLIVER).is_empty


def _met(body: FacedPart, faces: Sequence[LevelFace], other: FacedPart) -> Iterable[BaseGeometry]:
    """The areas on which a piece's faces meet tops of another part at their own height."""
    rise = body.part.underside - other.part.underside
    for tops in other.tops:
        for top in tops:
            for face in faces:
                if abs(top.height - face.height - rise) <= _LEVEL:
                    yield _shared(top, face)


def _lands(
    body: FacedPart, faces: Sequence[LevelFace], others: Sequence[FacedPart]
) -> tuple[str | None, float]:
    """What a piece that nothing carries would fall onto, and the height of that."""
    name, best = None, -inf
    for face in faces:
        for other in others:
            for top in (top for tops in other.tops for top in tops):
                height = other.part.underside + top.height
                if best < height <= body.part.underside + face.height + _LEVEL and (
                    _shared(top, face).area >= LEAST
                ):
                    name, best = other.part.name, height
    return name, best


def _under(feet: FacedPart, lowest: FacedPart) -> Iterable[Support]:
    """Every foot, with what of the lowest layer lies on it."""
    for piece, faces in enumerate(feet.tops):
        areas = [
            _shared(face, own)
            for under in lowest.undersides
            for face in under
            for own in faces
            if abs(lowest.part.underside + face.height - feet.part.underside - own.height) <= _LEVEL
        ]
        area = shapely.union_all(areas) if areas else shapely.Polygon()
        on = (lowest.part.name,) if area.area >= LEAST else ()
        yield Support(feet.part, piece, feet.pieces[piece], area if on else shapely.Polygon(), on)


def _loads(standing: Sequence[FacedPart], pieces: Sequence[Support]) -> tuple[Load, ...]:
    """Every part with what stands on it alone: a free body that only its own support holds up."""
    carriers: dict[str, set[str]] = {}
    areas_of: dict[str, list[BaseGeometry]] = {}
    for support in pieces:
        carriers.setdefault(support.part.name, set()).update(support.on)
        if support.carried:
            areas_of.setdefault(support.part.name, []).append(support.area)
    order = sorted((body for body in standing), key=lambda body: body.part.underside)
    names = [body.part.name for body in order]
    carried_by = [carriers.get(name) for name in names]
    grams = [body.grams for body in order]
    middles = [centre_of_mass(body.part.solid) for body in order]
    moments = [[mass * at[axis] for mass, at in zip(grams, middles, strict=True)] for axis in (0, 1)]
    found = []
    for number, name in enumerate(names):
        areas = areas_of.get(name)
        if not areas:
            continue
        held, some = {name}, [number]
        for other, on in enumerate(carried_by):
            if on and on <= held and names[other] not in held:
                held.add(names[other])
                some.append(other)
        total = sum(grams[one] for one in some)
        x, y = (sum(moment[one] for one in some) / total for moment in moments)
        margin = hull_margin(shapely.union_all(areas), (x, y))
        found.append(Load(name, tuple(names[one] for one in some[1:]), margin))
    return tuple(found)


def _passed(
    seats: Sequence[Seat], layers: Sequence[FacedPart], pieces: Sequence[Support]
) -> tuple[tuple[str, str], ...]:
    """Layers that went through the opening of the layer before them, and hold nothing up but one another."""
    found: list[tuple[str, str]] = []
    for before, body in reversed(list(pairwise(layers))):
        idle = {name for name, _ in found}
        holding = {name for one in pieces if one.part.name not in idle for name in one.on}
        on = {name for one in pieces if one.part is body.part for name in one.on}
        lower = body.part.underside < before.part.top - _LEVEL
        pair = {body.part.name, before.part.name}
        if not on or not lower or body.part.name in holding or before.part.name in on:
            continue
        if any({seat.layer, seat.host} == pair for seat in seats):
            continue
        within = shapely.union_all([shapely.Polygon(part.exterior) for part in _polygons(before.undersides)])
        if all(within.covers(part) for part in _polygons(body.undersides)):
            found.append((body.part.name, before.part.name))
    return tuple(reversed(found))


def _polygons(pieces: Iterable[Iterable[LevelFace]]) -> list[shapely.Polygon]:
    areas = [face.area for faces in pieces for face in faces]
    return [part for part in shapely.get_parts(areas) if part.geom_type == "Polygon"]
