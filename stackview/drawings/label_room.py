"""Where a label finds room on a page: the first place of several that covers nothing.

Boxes are left, lower, right, upper [mm]; lines are runs of places (k, 2) [mm].
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.drawings.paper import PaperBox

APART = 0.8
"""Clear paper round a label [mm]."""


@dataclass(slots=True)
class LabelRoom:
    """What of a region is taken by labels, which none may cover, and by lines, which labels avoid."""

    region: PaperBox
    labels: list[PaperBox] = field(default_factory=list)
    lines: list[shapely.Geometry] = field(default_factory=list)

    def take(self, box: PaperBox) -> None:
        """Note a label that stands."""
        self.labels.append(box)

    def take_line(self, places: Sequence[tuple[float, float]] | Floats) -> None:
        """Note a line that later labels avoid."""
        line = shapely.LineString(np.asarray(places))
        shapely.prepare(line)
        self.lines.append(line)

    def is_free(self, box: PaperBox, *, over_lines: bool = False, apart: float = APART) -> bool:
        """Whether a label may stand there: in the region, clear of labels and, unless told, of lines."""
        left, low, right, high = box
        if left < self.region[0] or low < self.region[1] or right > self.region[2] or high > self.region[3]:
            return False
        if any(meets(box, other, apart) for other in self.labels):
            return False
        if over_lines:
            return True
        area = shapely.box(left - apart, low - apart, right + apart, high + apart)
        return not any(line.intersects(area) for line in self.lines)

    def crosses_label(self, places: Sequence[tuple[float, float]] | Floats) -> bool:
        """Whether a line would run through a label that stands."""
        line = shapely.LineString(np.asarray(places))
        return any(line.intersects(shapely.box(*box)) for box in self.labels)


def meets(one: PaperBox, other: PaperBox, apart: float = 0.0) -> bool:
    """Whether two boxes come nearer than ``apart`` [mm].

    >>> meets((0, 0, 1, 1), (1.5, 0, 2, 1)), meets((0, 0, 1, 1), (1.5, 0, 2, 1), 0.6)
    (False, True)
    """
    return (
        one[0] < other[2] + apart
        and other[0] < one[2] + apart
        and one[1] < other[3] + apart
        and other[1] < one[3] + apart
    )
