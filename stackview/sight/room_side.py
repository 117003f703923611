"""The side view of a room: zones in which the same shows, over distance and height."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Whole
from stackview.one_line import one_line
from stackview.sight.bands import even_bearings
from stackview.sight.corners_seen import FaceCorners
from stackview.sight.room import RoomExtent, RoomLight, Zones, column

_ROWS = 900
"""Heights that are told apart from floor to ceiling."""
_SLOPE, _MOST_COLUMNS, _LEAST_COLUMNS = 4.0, 400, 30
"""Borders of what is seen from the lamp's top and from its foot stay within this of one ray between columns [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class RoomSide:
    """What shows over the distances and heights of a room.

    bearing : that it is seen from [°]; None for the worst of all bearings, at each place its own
    distances : (c,) from the lamp's axis, rising [mm]; heights : (h,) above the floor, rising evenly [mm]
    middle : height above the floor that borders run out from [mm]; extent : of the room
    zones : (c, h)
    """

    bearing: float | None
    distances: Floats
    heights: Floats
    middle: float
    extent: RoomExtent
    zones: Zones

    __repr__ = one_line

    def __post_init__(self) -> None:
        for array in (self.distances, self.heights):
            array.setflags(write=False)

    def drawn(self, distances: Floats, heights: Floats) -> Zones:
        """What shows at the crossings of distances (w,) and heights (k,) [mm]: (w, k), within those of the room."""
        number = self.zones.number
        last = len(self.distances) - 2
        before = np.clip(np.searchsorted(self.distances, distances, "right") - 1, 0, last)
        near, far = self.distances[before], self.distances[before + 1]
        # Along a straight line height over distance changes evenly with one over the distance.
        share = np.clip((1.0 / near - 1.0 / distances) / (1.0 / near - 1.0 / far), 0.0, 1.0)
        one, other = (
            number[at[:, None], self._row(self.heights, (own / distances)[:, None])]
            for at, own in ((before, near), (before + 1, far))
        )
        return Zones.of(_between(one, other, share)[:, self._row(heights, np.ones(1))])

    def at(self, distance: float, height: float) -> Zones:
        """What shows to one eye at a distance from the axis and a height above the floor [mm]: (1, 1)."""
        return self.drawn(np.array([distance]), np.array([height]))

    def _row(self, heights: Floats, share: Floats) -> Whole:
        """The row that the ray from the middle to each height has at a share of its length."""
        along = self.middle + (heights - self.middle) * share
        step = self.heights[1] - self.heights[0]
        return np.asarray(
            np.clip(np.rint((along - self.heights[0]) / step), 0, len(self.heights) - 1), np.int64
        )


def _between(one: Whole, other: Whole, share: Floats) -> Whole:
    """Two columns' numbers (w, h) along the same rays, mixed so that a border moves evenly from one to the other.

    Where they differ, one of them has passed a border that the other has not: of that stretch, the
    share (w,) that has been gone tells how much is beyond the border by now.
    """
    differ = one != other
    rows = np.arange(one.shape[1])
    begins = differ.copy()
    begins[:, 1:] &= ~differ[:, :-1]
    first = np.maximum.accumulate(np.where(begins, rows, 0), axis=1)
    ends = differ.copy()
    ends[:, :-1] &= ~differ[:, 1:]
    last = np.minimum.accumulate(np.where(ends, rows, len(rows))[:, ::-1], axis=1)[:, ::-1]
    below = np.maximum(first - 1, 0)
    column = np.arange(len(one))[:, None]
    # Below the stretch both tell the same: the one that still tells that at its foot has its border at the top.
    holds = one[column, first] == one[column, below]
    part = np.where(holds, 1.0 - share[:, None], share[:, None])
    beneath = rows + 0.5 - first < part * (last + 1 - first)
    return np.where(differ & (beneath != holds), other, one)


def side_columns(extent: RoomExtent) -> Floats:
    """Distances (c,) across the room [mm], growing in proportion, and those of the named eyes.

    The taller the light points stand apart, the closer: borders run straight out from every one of them.
    """
    ratio = 2.0 * _SLOPE / max(extent.span, 1.0)
    number = int(np.clip(np.log(extent.far / extent.near) / np.log1p(ratio), _LEAST_COLUMNS, _MOST_COLUMNS))
    eyes = [eye for eye in extent.eyes if extent.near < eye < extent.far]
    return np.unique(np.concatenate([np.geomspace(extent.near, extent.far, number), eyes]))


def room_side(
    shows: RoomLight, corners: FaceCorners, extent: RoomExtent, bearing: float | None, bearings: int
) -> RoomSide:
    """Work out what shows over a room's distances and heights.

    ``bearing`` [°] is that of the eyes; without one it is the worst of ``bearings`` all round. ``corners`` are
    those of the same bearing.
    """
    around = np.radians(even_bearings(bearings) if bearing is None else np.array([bearing % 360.0]))
    distances = side_columns(extent)
    # A ray through a place near the ceiling has gone beyond it at the next distance.
    growth, middle = float((distances[1:] / distances[:-1]).max()), extent.middle
    low, high = middle - growth * middle, middle + growth * (extent.top - middle)
    heights = np.linspace(low, high, int(np.ceil(_ROWS * (high - low) / extent.top)) + 1)
    found = [
        column(shows, corners, float(distance), around, heights - shows.floor).zones().number
        for distance in distances
    ]
    return RoomSide(bearing, distances, heights, middle, extent, Zones.of(np.array(found)))
