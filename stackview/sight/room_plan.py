"""The plan of a room: what shows to eyes at one height, all round the lamp.

Along one line outwards from the axis a light point shows between distances: those at which its bands' ends
pass the eyes' height. They are found ring by ring, in each with the bands towards its middle.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from stackview.arrays import Floats, Ints, Whole
from stackview.one_line import one_line
from stackview.sight.bands import Kind, even_bearings
from stackview.sight.glazed_slices import slices
from stackview.sight.room import RoomExtent, RoomLight, Zones, most_exposed, rows_below
from stackview.sight.surface import hidden_heights

_RINGS, _STEPS = 48, 500
"""Rings in which bands are looked up, and distances that are told apart."""
_FEW, _FINE, _COARSE = 100, 1440, 720
"""Up to how many light points bearings are told apart finely, and how many bearings."""
_NARROW = 1e-9
_Line = tuple[Floats, Floats]
"""Heights over the distance from the axis: at the axis, and how much they rise with each millimetre."""


@dataclass(frozen=True, slots=True, eq=False)
class RoomPlan:
    """What shows round the lamp to eyes at one height.

    height : of the eyes above the floor [mm]; bearings : (b,) evenly all round [°]
    distances : (d,) from the axis, rising evenly [mm]; zones : (b, d)
    """

    height: float
    bearings: Floats
    distances: Floats
    zones: Zones

    __repr__ = one_line

    def __post_init__(self) -> None:
        for array in (self.bearings, self.distances):
            array.setflags(write=False)

    def at(self, bearing: Floats, distance: Floats) -> Zones:
        """What shows at places of any shape, by bearing [°] and distance from the axis [mm]."""
        turn = np.rint(bearing * (len(self.bearings) / 360.0)).astype(np.int64) % len(self.bearings)
        step = self.distances[1] - self.distances[0]
        out = np.clip(np.rint((distance - self.distances[0]) / step), 0, len(self.distances) - 1).astype(
            np.int64
        )
        return Zones.of(self.zones.number[turn, out])


def room_plan(shows: RoomLight, extent: RoomExtent, height: float) -> RoomPlan:
    """Work out what shows all round at a ``height`` above the floor [mm]. Faces are judged by their middles."""
    bearings = _FINE if len(shows.straight) <= _FEW and not len(shows.tubes) else _COARSE
    near, far = extent.near, extent.far
    around = np.radians(even_bearings(bearings))
    distances = np.linspace(near, far, _STEPS)
    edges = np.geomspace(near, far, _RINGS + 1)
    # The outermost distances belong to a ring too.
    edges[0], edges[-1] = near - 1.0, far + 1.0
    counts = np.zeros((3, bearings, _STEPS), np.int32)
    for inner, outer in pairwise(edges.tolist()):
        _add_ring(counts, shows, (inner, outer), height - shows.floor, around, distances)
    return RoomPlan(height, even_bearings(bearings), distances, Zones.of_middles(counts))


def _add_ring(
    counts: Ints,
    shows: RoomLight,
    ring: tuple[float, float],
    height: float,
    around: Floats,
    distances: Floats,
) -> None:
    """Add the points that show within one ring to counts (3, b, d), which are changed in place."""
    middle = (ring[0] + ring[1]) / 2.0
    point, at, kind, inner, outer = _straight(shows, middle, height, around)
    if len(shows.tubes):
        cut = slices(shows.tubes, middle, around, -np.inf, np.inf, shows.surface)
        # Straight on from where it leaves the acrylic, light keeps its slope.
        low, high = ((cut.begin, (end - cut.begin) / middle) for end in (cut.low, cut.high))
        first, last = _between(low, high, height)
        shown = np.flatnonzero(first < last)
        point, at, kind, inner, outer = most_exposed(
            np.concatenate([point, cut.point[shown]]),
            np.concatenate([at, cut.at[shown]]),
            np.concatenate([kind, np.full(len(shown), int(Kind.GLAZED))]),
            np.concatenate([inner, first[shown]]),
            np.concatenate([outer, last[shown]]),
            len(around),
        )
    begin, end = (rows_below(np.clip(own, *ring), distances) for own in (inner, outer))
    kept = np.flatnonzero(begin < end)
    if not len(kept):
        return
    least, most = int(begin[kept].min()), int(end[kept].max())
    size = most - least + 1
    line = (kind[kept] * len(around) + at[kept]) * size - least
    steps = np.bincount(line + begin[kept], minlength=3 * len(around) * size)
    steps -= np.bincount(line + end[kept], minlength=len(steps))
    shown_by = np.cumsum(steps.reshape(3, len(around), size)[..., :-1], axis=2, dtype=np.int32)
    counts[:, :, least:most] += shown_by


def _straight(
    shows: RoomLight, distance: float, height: float, around: Floats
) -> tuple[Whole, Whole, Whole, Floats, Floats]:
    """Between which distances points show along straight lines, by their bands at one: point, bearing, kind, from and to."""
    lines = shows.straight
    sine, cosine = np.sin(around), np.cos(around)
    x, y = distance * sine, -distance * cosine
    point, at = np.nonzero(lines.turned_to(x, y))
    pair, band = lines.over(point, x[at], y[at])
    point, at = point[pair], at[pair]
    low, high = (
        (end[0].take(band), end[1].take(band) * sine[at] - end[2].take(band) * cosine[at])
        for end in (lines.low, lines.high)
    )
    inner, outer = _between(low, high, height)
    if shows.surface is not None and height < 0.0:
        inner = np.maximum(inner, _past_surface(shows, point, (x[at], y[at]), distance, height))
    kept = np.flatnonzero(inner < outer)
    return point[kept], at[kept], lines.kind[band[kept]].astype(np.int64), inner[kept], outer[kept]


def _between(low: _Line, high: _Line, height: float) -> tuple[Floats, Floats]:
    """Between which distances a height lies above one line and below another, each a height at the axis and a slope."""
    from_low, to_low = _where_below(*low, height)
    from_high, to_high = _where_below(-high[0], -high[1], -height)
    return np.maximum(np.maximum(from_low, from_high), 0.0), np.minimum(to_low, to_high)


def _where_below(start: Floats, slope: Floats, height: float) -> tuple[Floats, Floats]:
    """Between which distances start + slope · r < height."""
    level = slope == 0.0
    root = (height - start) / np.where(level, 1.0, slope)
    begin, end = np.where(slope < 0.0, root, -np.inf), np.where(slope > 0.0, root, np.inf)
    return begin, np.where(level & (start >= height), -np.inf, end)


def _past_surface(
    shows: RoomLight, point: Whole, target: tuple[Floats, Floats], distance: float, height: float
) -> Floats:
    """The distance from the axis beyond which the surface no longer hides points (k,) from a ``height`` below it.

    Light from z₀ that just passes the surface's edge, D away, is at that height D·(1 − height/z₀) away.
    """
    assert shows.surface is not None
    x, y, z = shows.straight.places[point].T
    way_x, way_y = target[0] - x, target[1] - y
    far = np.hypot(way_x, way_y)
    # The height that just clears the edge at the target tells how far away the edge is.
    low, high = hidden_heights((x, y, z), target[0], target[1], shows.surface)
    rise = np.where((low < high) & np.isneginf(low), high, 0.0)
    edge = far * z / np.maximum(z - rise, _NARROW)
    clear = edge * (1.0 - height / np.maximum(z, _NARROW))
    radial = (way_x * target[0] + way_y * target[1]) / (far * distance)
    whole = (rise == 0.0) & np.isneginf(low)
    return np.where(whole, np.inf, np.where(np.isneginf(low), distance + (clear - far) / radial, -np.inf))
