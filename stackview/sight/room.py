"""From where in a room light points show: its side view, as counts over distance and height.

Along one upright line of the room, at a distance from the lamp's axis and a bearing, a light point shows in
stretches of height. Where they begin and end is added up over all points, for every bearing, and of all
bearings the greatest sum is kept: what an eye there sees of each kind at worst. That is worked out at
distances that grow in proportion; between two of them borders run straight, as light does.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Ints, Whole, Yes
from stackview.description.lamp import Surface
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.all_round import AllRound
from stackview.sight.bands import Kind
from stackview.sight.corners_seen import FaceCorners
from stackview.sight.glazed_slices import Tubes, slices
from stackview.sight.surface import clear_of_surface, hidden_heights
from stackview.stack.assembly import Stack

_RANK = np.array([1 << 40, 1 << 20, 1])
"""Of each :class:`Kind`, in one running sum: bare counts before glazed, glazed before veiled."""
_APART = float(1 << 20)
"""Farther than any height in a room [mm]: keeps the lines of one circle apart in a sorted array."""


class Zone(IntEnum):
    """The most exposed that an eye sees of any light point. "Part" is a corner of a face whose middle does not show so."""

    NOTHING = 0
    PART_VEILED = 1
    VEILED = 2
    GLAZED = 3
    PART_BARE = 4
    BARE = 5


KIND_ZONES = {Kind.BARE: Zone.BARE, Kind.GLAZED: Zone.GLAZED, Kind.VEILED: Zone.VEILED}
"""What a light point that shows is called as a zone."""
_OF_PART = {Kind.BARE: Zone.PART_BARE, Kind.VEILED: Zone.PART_VEILED}
_MOST_POINTS = 1 << 20


@dataclass(frozen=True, slots=True, eq=False)
class Zones:
    """What shows at each place: a :class:`Zone`, and how many light points of its kind (0 for a part or nothing)."""

    zone: NDArray[np.int8]
    count: Ints

    __repr__ = one_line

    def __post_init__(self) -> None:
        for array in (self.zone, self.count):
            array.setflags(write=False)

    @property
    def number(self) -> Whole:
        """One whole number each, greater where what shows is more exposed or more; equal where the same shows."""
        return np.asarray(self.zone.astype(np.int64) * _MOST_POINTS + self.count)

    @classmethod
    def of_middles(cls, counts: Ints) -> "Zones":
        """The most exposed of what shows of faces' middles, by counts (3, …) of each :class:`Kind`."""
        number = np.zeros(counts.shape[1:], np.int64)
        for kind in (Kind.VEILED, Kind.GLAZED, Kind.BARE):
            own = counts[kind]
            number = np.where(own > 0, int(KIND_ZONES[kind]) * _MOST_POINTS + own, number)
        return cls.of(number)

    @classmethod
    def of(cls, number: Whole) -> "Zones":
        """The zones that :attr:`number` stands for."""
        zone, count = np.divmod(number, _MOST_POINTS)
        return cls(zone.astype(np.int8), count.astype(np.int32))


CEILING, DEEP = 2500.0, 4000.0
"""How high and how deep the room is [mm]: a usual ceiling, and as far as people sit from a lamp."""
_CLEAR = 300.0
"""Room above the lamp and the eyes [mm]."""


@dataclass(frozen=True, slots=True)
class RoomExtent:
    """How far a room reaches [mm]: ``near`` beside the lamp to ``far`` from its axis, up to ``top`` above the floor.

    ``middle`` is the height of the light points' middle above the floor, ``span`` how far they reach about it
    in all; ``eyes`` are the named eyes' distances.
    """

    near: float
    far: float
    top: float
    middle: float
    span: float
    eyes: tuple[float, ...]


def extent_of(stack: Stack, points: LightPoints) -> RoomExtent:
    """A room as large as is usual, and larger where the lamp or a named eye asks for it."""
    body = [part.solid.vertices for part in stack.placed if not part.is_cord and len(part.solid.vertices)]
    reach = max((float(np.hypot(places[:, 0], places[:, 1]).max()) for places in body), default=10.0)
    eyes = stack.lamp.eyes
    near = 1.05 * reach + 5.0
    heights = points.centres[:, 2] if len(points) else np.array([0.0, stack.height])
    low, high = float(heights.min()), float(heights.max())
    return RoomExtent(
        near,
        max(DEEP, 4.0 * near, *(1.1 * eye.distance for eye in eyes)),
        max(CEILING, stack.floor + stack.height + _CLEAR, *(eye.height + _CLEAR for eye in eyes)),
        stack.floor + (low + high) / 2.0,
        high - low,
        tuple(eye.distance for eye in eyes),
    )


@dataclass(frozen=True, slots=True, eq=False)
class RoomLight:
    """What is known of a lamp's light points for asking what shows where in a room.

    straight : bands along straight lines; tubes : light through clear acrylic
    floor : height of z = 0 above the floor [mm]; surface : that the lamp stands on, if any
    """

    straight: AllRound
    tubes: Tubes
    floor: float
    surface: Surface | None


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """Counts over one distance: (3, h) of each :class:`Kind` at worst; part : (2, h) bare, veiled. Heights from z = 0."""

    counts: Ints
    part: Yes

    def zones(self) -> Zones:
        """The most exposed of all."""
        number = np.zeros(self.counts.shape[1:], np.int64)
        for part, kind in ((1, Kind.VEILED), (0, Kind.BARE)):
            number = np.where(self.part[part], int(_OF_PART[kind]) * _MOST_POINTS, number)
        for kind in (Kind.VEILED, Kind.GLAZED, Kind.BARE):
            own = self.counts[kind]
            number = np.where(own > 0, np.maximum(number, int(KIND_ZONES[kind]) * _MOST_POINTS + own), number)
        return Zones.of(number)


def column(
    shows: RoomLight, corners: FaceCorners, distance: float, bearings: Floats, heights: Floats
) -> Column:
    """What shows ``distance`` [mm] from the axis to eyes at ``bearings`` (b,) [rad], at worst.

    They stand evenly all round from the first; with one alone it is what shows from there. ``heights`` (h,)
    rise evenly, from z = 0 [mm]. ``corners`` are those of the same bearing, if it is one.
    """
    counts = np.zeros((3, len(heights)), np.int32)
    for kind, begin, own in counts_over(shows, distance, bearings, heights):
        counts[kind, begin : begin + own.shape[1]] = own.max(axis=0)
    return Column(counts, _parts(shows, corners, distance, bearings, heights))


def counts_over(
    shows: RoomLight, distance: float, bearings: Floats, heights: Floats
) -> Iterator[tuple[Kind, int, Ints]]:
    """How many points show ``distance`` [mm] from the axis: each kind that does, its first row and counts (b, k) from there.

    ``bearings`` (b,) [rad] and ``heights`` (h,) from z = 0 [mm] rise evenly; in all other rows none shows so.
    """
    _, at, kind, low, high = _stretches(shows, distance, bearings, heights)
    first, last = rows_below(low, heights), rows_below(high, heights)
    for one in Kind:
        own = np.flatnonzero((kind == one) & (first < last))
        if len(own):
            yield one, *_at_once(at[own], first[own], last[own], len(bearings))


def _at_once(line: Whole, first: Whole, last: Whole, lines: int) -> tuple[int, Ints]:
    """How many stretches of each line hold each row: stretches (k,) by line, from row ``first`` to before ``last``."""
    begin, end = int(first.min()), int(last.max())
    size = end - begin + 1
    steps = np.bincount(line * size + (first - begin), minlength=lines * size)
    steps -= np.bincount(line * size + (last - begin), minlength=len(steps))
    return begin, np.cumsum(steps.reshape(lines, size)[:, :-1], axis=1, dtype=np.int32)


def rows_below(heights: Floats, rows: Floats) -> Whole:
    """How many of evenly rising rows lie below each of some heights."""
    step = rows[1] - rows[0]
    return np.asarray(np.clip(np.ceil((heights - rows[0]) / step), 0.0, len(rows)), np.int64)


def _stretches(
    shows: RoomLight, distance: float, bearings: Floats, heights: Floats
) -> tuple[Whole, Whole, Whole, Floats, Floats]:
    """Stretches of height in which points show: point, number of the bearing, kind, low and high [mm]; none overlap."""
    around = shows.straight
    x, y = distance * np.sin(bearings), -distance * np.cos(bearings)
    point, at = np.nonzero(around.turned_to(x, y))
    pair, band = around.over(point, x[at], y[at])
    point, at, kind = point[pair], at[pair], around.kind[band].astype(np.int64)
    own_x, own_y = x[at], y[at]
    low, high = (
        end[0].take(band) + end[1].take(band) * own_x + end[2].take(band) * own_y
        for end in (around.low, around.high)
    )
    if shows.surface is not None:
        place_x, place_y, place_z = around.places[point].T
        hidden = hidden_heights((place_x, place_y, place_z), own_x, own_y, shows.surface)
        number, low, high = clear_of_surface(low, high, hidden)
        point, at, kind = point[number], at[number], kind[number]
    if not len(shows.tubes):
        return point, at, kind, low, high
    cut = slices(shows.tubes, distance, bearings, heights[0], heights[-1], shows.surface)
    return most_exposed(
        np.concatenate([point, cut.point]),
        np.concatenate([at, cut.at]),
        np.concatenate([kind, np.full(len(cut.point), int(Kind.GLAZED))]),
        np.concatenate([low, cut.low]),
        np.concatenate([high, cut.high]),
        len(bearings),
    )


def most_exposed(
    point: Whole, at: Whole, kind: Whole, low: Floats, high: Floats, lines: int
) -> tuple[Whole, Whole, Whole, Floats, Floats]:
    """Stretches that overlap, cut so that each height holds the most exposed of its point alone."""
    line, rank = (point * lines + at).astype(float), _RANK[kind]
    ends = np.clip(np.concatenate([low, high]), -_APART / 4.0, _APART / 4.0)
    key = np.concatenate([line, line]) * _APART + ends
    order = np.argsort(key)
    running = np.cumsum(np.concatenate([rank, -rank])[order])
    height = ends[order]
    inside = np.flatnonzero(running[:-1] > 0)
    which = np.where(running[inside] >= _RANK[0], 0, np.where(running[inside] >= _RANK[1], 1, 2))
    own = order[inside] % len(line)
    return point[own], at[own], which, height[inside], height[inside + 1]


def _parts(shows: RoomLight, corners: FaceCorners, distance: float, bearings: Floats, heights: Floats) -> Yes:
    """Where a corner of a face is bare, and where one shows veiled: (2, h)."""
    found = np.zeros((2, len(heights)), dtype=bool)
    bearing = float(bearings[0]) if len(bearings) == 1 else None
    kind, low, high = corners.over(distance, bearing, shows.surface)
    first, last = rows_below(low, heights), rows_below(high, heights)
    for row, one in enumerate((Kind.BARE, Kind.VEILED)):
        own = (kind == one) & (first < last)
        steps = np.bincount(first[own], minlength=len(heights) + 1)
        steps -= np.bincount(last[own], minlength=len(heights) + 1)
        found[row] = np.cumsum(steps)[:-1] > 0
    return found
