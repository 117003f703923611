"""Where words go in a picture full of zones: inside a zone that holds them, or beside an eye where nothing else is."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from stackview.arrays import Whole, Yes
from stackview.drawings.chart_style import Extent

_CELL = 4
"""Pixels of one cell of the coarse grid in which room is looked for."""


@dataclass(slots=True)
class FreeRoom:
    """Which places of a frame are taken; ``taken`` (h, w) cells, its first row below."""

    frame: Extent
    taken: Yes

    @classmethod
    def of(cls, frame: Extent) -> "FreeRoom":
        """An empty frame."""
        left, low, right, high = frame
        return cls(frame, np.zeros((int((high - low) // _CELL), int((right - left) // _CELL)), dtype=bool))

    def take(self, box: Extent) -> None:
        """Nothing else may stand in this box."""
        left, low, right, high = self._cells(box)
        self.taken[max(low, 0) : max(high, 0), max(left, 0) : max(right, 0)] = True

    def is_free(self, box: Extent) -> bool:
        """Whether a box lies within the frame and touches nothing that is taken."""
        if (
            box[0] < self.frame[0]
            or box[1] < self.frame[1]
            or box[2] > self.frame[2]
            or box[3] > self.frame[3]
        ):
            return False
        left, low, right, high = self._cells(box)
        return not self.taken[low:high, left:right].any()

    def beside(self, at: tuple[float, float], wide: float, tall: float, off: float) -> Extent | None:
        """The free box of a size that is nearest to a place, ``off`` from it; the right of it comes first."""
        for box in _round(at, wide, tall, off, self.frame):
            if self.is_free(box):
                return box
        return None

    def inside(
        self, mask: Yes, wide: float, tall: float, aim: tuple[float, float]
    ) -> tuple[float, float] | None:
        """The middle of a free box of a size within a mask (h, w cells), nearest to ``aim`` (shares of the frame)."""
        across, up = int(np.ceil(wide / _CELL)) + 1, int(np.ceil(tall / _CELL)) + 1
        free = mask & ~self.taken
        if across >= free.shape[1] or up >= free.shape[0]:
            return None
        sums = np.zeros((free.shape[0] + 1, free.shape[1] + 1), np.int64)
        np.cumsum(np.cumsum(free, axis=0), axis=1, out=sums[1:, 1:])
        whole = sums[up:, across:] - sums[:-up, across:] - sums[up:, :-across] + sums[:-up, :-across]
        rows, columns = np.nonzero(whole == across * up)
        if not len(rows):
            return None
        far_x = (columns + across / 2.0) / free.shape[1] - aim[0]
        far_y = (rows + up / 2.0) / free.shape[0] - aim[1]
        best = int(np.argmin(far_x**2 + far_y**2))
        return (
            self.frame[0] + (columns[best] + across / 2.0) * _CELL,
            self.frame[1] + (rows[best] + up / 2.0) * _CELL,
        )

    def cells_of(self, numbers: Whole) -> Whole:
        """Numbers of pixels (h, w), first row below, in the middles of the cells."""
        rows, columns = (np.arange(size) * _CELL + _CELL // 2 for size in self.taken.shape)
        return np.asarray(
            numbers[np.minimum(rows, len(numbers) - 1)[:, None], np.minimum(columns, numbers.shape[1] - 1)]
        )

    def _cells(self, box: Extent) -> tuple[int, int, int, int]:
        left, low = (int(np.floor((box[k] - self.frame[k]) / _CELL)) for k in (0, 1))
        right, high = (int(np.ceil((box[k + 2] - self.frame[k]) / _CELL)) for k in (0, 1))
        return left, low, right, high


def _round(at: tuple[float, float], wide: float, tall: float, off: float, frame: Extent) -> Iterator[Extent]:
    """Boxes about a place: right, left, over and under it, then on widening rings."""
    x, y = at
    near = (
        (x + off, y - tall / 2.0),
        (x - off - wide, y - tall / 2.0),
        (x - wide / 2.0, y + off),
        (x - wide / 2.0, y - off - tall),
    )
    for left, low in near:
        yield left, low, left + wide, low + tall
    reach = max(frame[2] - frame[0], frame[3] - frame[1])
    for ring in np.arange(1.2, 40.0, 0.6):
        if ring * tall > reach:
            return
        for turn in np.arange(0.0, 2.0 * np.pi, min(0.5, 0.9 / ring)):
            # To the sides the box's own width has to be passed, upwards its height.
            middle_x = x + np.cos(turn) * (off + ring * tall * 0.8 + wide / 2.0)
            middle_y = y + np.sin(turn) * (off + ring * tall * 0.8)
            left, low = float(middle_x - wide / 2.0), float(middle_y - tall / 2.0)
            yield left, low, left + wide, low + tall
