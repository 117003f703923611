"""The way of a wire inside the lamp: where its middle can be, level by level, and what it gets to.

A wire of radius r is taken as a bead as high as it is wide. Its middle can be at a height where
nothing that reaches within r of that height comes within r of it: free area, shrunk by r. Between
the heights at which anything begins or ends (each ± r) that area is the same; where the areas of
two neighbouring levels share a place, the bead passes from one to the other (path planning by
growing the obstacles, Lozano-Pérez 1983).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from stackview.by_value import by_value
from stackview.checks.facets import TO_PASS
from stackview.checks.slabs import Cuts, core_plan, layer_slabs, slab_plan
from stackview.checks.strip_openings import strip_sections
from stackview.checks.subject import Subject
from stackview.curves.arcs import Path, polygon
from stackview.description.lamp import Core, Layer
from stackview.description.outline import Around, Outline, around, path_of

_ROUND = 6
"""Facets in a quarter turn of a grown corner."""
_SLACK = 0.02
"""A wire gives by so much: a way as wide as the wire lets it through [mm]."""
_LEAST = 1e-3
"""Places that share less than this do not [mm²]."""
_HIGHEST = 1e-6
_KEPT = 8_000_000


@dataclass(frozen=True, slots=True, eq=False)
class _Block:
    """Something in the way between two heights: its area grown by the wire's radius, and its filled outside."""

    name: str
    low: float
    high: float
    grown: BaseGeometry
    filled: BaseGeometry | None
    """What it closes in, for a layer in one piece; None for what stands inside."""


@dataclass(frozen=True, slots=True, eq=False)
class _Level:
    """Where the wire's middle can be between two heights: separate areas."""

    low: float
    high: float
    areas: tuple[BaseGeometry, ...]


class Ways:
    """The ways of a wire of ``radius`` [mm] inside one lamp; levels are worked out when first come to."""

    def __init__(self, subject: Subject, radius: float) -> None:
        self.radius = radius - _SLACK
        self.blocks = tuple(_blocks(subject, self.radius))
        marks = {height for block in self.blocks for height in (block.low, block.high)}
        lowest, highest = min(marks), max(marks)
        steps = {m + by for m in marks for by in (-self.radius, self.radius)}
        inside = sorted(m for m in steps if lowest - _HIGHEST <= m <= highest + _HIGHEST)
        self.heights = [m for k, m in enumerate(inside) if k == 0 or m - inside[k - 1] > _HIGHEST]
        self._levels: dict[int, _Level] = {}

    def at(self, height: float) -> int:
        """Number of the level that holds a height [mm]."""
        return int(np.clip(np.searchsorted(self.heights, height, "right") - 1, 0, len(self.heights) - 2))

    def level(self, number: int) -> _Level:
        """One level, by number."""
        found = self._levels.get(number)
        if found is None:
            low, high = self.heights[number], self.heights[number + 1]
            found = self._levels[number] = _Level(low, high, self._free((low + high) / 2.0))
        return found

    def _free(self, middle: float) -> tuple[BaseGeometry, ...]:
        near = [
            block
            for block in self.blocks
            if block.low < middle + self.radius and block.high > middle - self.radius
        ]
        filled = [block.filled for block in near if block.filled is not None] or self._beside(middle)
        if not filled:
            return ()
        room = shapely.intersection_all(filled)
        left = room.difference(shapely.union_all([block.grown for block in near]))
        return tuple(part for part in shapely.get_parts(left) if part.area > _LEAST)

    def _beside(self, middle: float) -> list[BaseGeometry]:
        """In a gap: what the layers below and above it close in."""
        closed = [block for block in self.blocks if block.filled is not None]
        below = max((one for one in closed if one.high <= middle), key=lambda one: one.high, default=None)
        above = min((one for one in closed if one.low >= middle), key=lambda one: one.low, default=None)
        return [one.filled for one in (below, above) if one is not None and one.filled is not None]

    def reached(self, starts: Sequence[tuple[BaseGeometry, float]]) -> "Reached":
        """Everything that the wire gets to from areas of places, each at a height [mm]."""
        begun = {
            (level, k): None
            for start, height in starts
            for level in (self.at(height - _HIGHEST), self.at(height + _HIGHEST))
            for k, area in enumerate(self.level(level).areas)
            if area.intersection(start).area > _LEAST
        }
        return Reached(self, list(begun))


class Reached:
    """What a wire gets to: areas of levels, found as far as somebody asks."""

    def __init__(self, ways: Ways, begun: Sequence[tuple[int, int]]) -> None:
        self.ways = ways
        self._known = set(begun)
        self._open = list(begun)

    def _grow(self) -> Iterator[tuple[int, int]]:
        yield from list(self._known)
        while self._open:
            number, k = self._open.pop(0)
            here = self.ways.level(number).areas[k]
            for beside in (number - 1, number + 1):
                if not 0 <= beside < len(self.ways.heights) - 1:
                    continue
                for other, area in enumerate(self.ways.level(beside).areas):
                    if (beside, other) in self._known or here.intersection(area).area <= _LEAST:
                        continue
                    self._known.add((beside, other))
                    self._open.append((beside, other))
                    yield beside, other

    def gets_to(self, place: BaseGeometry, low: float, high: float) -> bool:
        """Whether it gets into an area between two heights [mm]."""
        for number, k in self._grow():
            level = self.ways.level(number)
            if level.high > low and level.low < high and level.areas[k].intersects(place):
                return True
        return False

    @cached_property
    def heights(self) -> tuple[float, float] | None:
        """Lowest and highest that the wire's own outside gets to [mm]; None where it does not begin."""
        found = [self.ways.level(number) for number, _ in self._grow()]
        if not found:
            return None
        radius = self.ways.radius
        return min(level.low for level in found) - radius, max(level.high for level in found) + radius


def _blocks(subject: Subject, radius: float) -> Iterator[_Block]:
    lamp, parts = subject.lamp, {part.name: part for part in subject.stack.placed}
    for layer in lamp.layers:
        part = parts[layer.name]
        yield from _of_layer(layer, part.underside, radius)
    if lamp.core is not None and "core" in parts:
        core = parts["core"]
        yield _Block("core", core.underside, core.top, _core(lamp.core, radius), None)
        first = 0
        for lit in subject.light.lit:
            ribbons = subject.light.ribbons[first : first + len(lit.cuts)]
            first += len(ribbons)
            layout = lit.light.on_core
            if layout is not None and ribbons:
                ends = np.concatenate([np.concatenate((one.low, one.high)) for one in ribbons])[:, 2]
                shapes = [_polygon(path) for path in strip_sections(layout, lamp.core)]
                solid = shapely.difference(shapely.union_all(shapes), _polygon(path_of(lamp.core.outline)))
                grown = solid.buffer(radius, quad_segs=_ROUND)
                yield _Block("strip", float(ends.min()), float(ends.max()), grown, None)
    for post in lamp.posts:
        if post.name in parts:
            rods = shapely.union_all([_polygon(path) for path in around(path_of(post.outline), post.around)])
            part = parts[post.name]
            yield _Block(post.name, part.underside, part.top, rods.buffer(radius, quad_segs=_ROUND), None)


def _of_layer(layer: Layer, foot: float, radius: float) -> Iterator[_Block]:
    """A layer as slabs, between the floors of its recesses."""
    for slab in layer_slabs(layer):
        grown, filled = _slab(layer.outline, layer.around, slab.cuts, layer.turn, radius)
        closed_in = None if layer.around is not None else filled
        yield _Block(layer.name, foot + slab.low, foot + slab.high, grown, closed_in)


def _size(found: tuple[BaseGeometry, ...]) -> int:
    return int(16 * sum(shapely.get_num_coordinates(one) for one in found))


@by_value(_KEPT, size=_size)
def _slab(
    outline: Outline, copies: Around | None, cuts: Cuts, turn: float, radius: float
) -> tuple[BaseGeometry, BaseGeometry]:
    """What a slab of a layer takes, grown by the radius; and its outside filled, shrunk by it."""
    left, whole = slab_plan(outline, copies, cuts, turn)
    return left.buffer(radius, quad_segs=_ROUND), whole.buffer(-radius, quad_segs=_ROUND)


@by_value(_KEPT, size=lambda found: int(16 * shapely.get_num_coordinates(found)))
def _core(core: Core, radius: float) -> BaseGeometry:
    return core_plan(core).buffer(radius, quad_segs=_ROUND)


def _polygon(path: Path) -> shapely.Polygon:
    return shapely.Polygon(polygon(path, TO_PASS))
