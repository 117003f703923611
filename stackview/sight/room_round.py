"""The room all round at one distance: what shows from every bearing to eyes at every height.

It is an eye's own map. The map of all directions is for eyes far away; here each place is where an eye
stands that walks round the lamp at its distance, so that the counts are those that this eye has.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Ints
from stackview.one_line import one_line
from stackview.sight.bands import even_bearings
from stackview.sight.room import RoomLight, Zones, counts_over

_ROW = 2.0
"""Between heights that are told apart [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class RoomRound:
    """What shows at one distance from the lamp's axis, by bearing and height. Faces are judged by their middles.

    distance : from the axis [mm]; bearings : (b,) evenly all round [°]
    heights : (h,) above the floor, rising evenly [mm]; counts : (3, b, h) of each :class:`Kind`
    """

    distance: float
    bearings: Floats
    heights: Floats
    counts: Ints

    __repr__ = one_line

    def __post_init__(self) -> None:
        for array in (self.bearings, self.heights, self.counts):
            array.setflags(write=False)

    @property
    def zones(self) -> Zones:
        """The most exposed of what shows at each place: (b, h)."""
        return Zones.of_middles(self.counts)


def room_round(shows: RoomLight, distance: float, top: float, bearings: int) -> RoomRound:
    """Work out what shows all round at a ``distance`` outside the lamp, from the floor up to ``top`` [mm].

    Every place told is exact, as named eyes are.
    """
    around = even_bearings(bearings)
    heights = np.linspace(0.0, top, int(np.ceil(top / _ROW)) + 1)
    counts = np.zeros((3, bearings, len(heights)), np.int32)
    for kind, begin, own in counts_over(shows, distance, np.radians(around), heights - shows.floor):
        counts[kind, :, begin : begin + own.shape[1]] = own
    return RoomRound(distance, around, heights, counts)
