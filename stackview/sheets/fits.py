"""What of some shapes fits beside and inside what: worked out once for each pair, then only moved."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.curves.arcs import cos_sin
from stackview.sheets.no_fit import Fitted, Region, fitted, inner_fit, no_fit

Turned = tuple[int, int]
"""Number of a shape, and of one of its turns."""


@dataclass(frozen=True, slots=True, eq=False)
class FlatShape:
    """A shape to be laid on sheets, in its own frame.

    ``corners`` (k, 2) hold the part, counter-clockwise [mm]; ``turns`` are the turns [°] in which it may
    lie; ``wastes`` are shapes within its openings, whose waste may give smaller parts; ``area`` is that of
    the part itself, its openings taken off [mm²].
    """

    corners: Floats
    turns: tuple[float, ...]
    wastes: tuple[Floats, ...]
    area: float


def turned_places(places: Floats, turn: float) -> Floats:
    """Places (k, 2) turned counter-clockwise by ``turn`` [°] about the origin."""
    cos, sin = cos_sin(turn)
    return np.asarray(places @ np.array(((cos, sin), (-sin, cos))))


class Fits:
    """Shapes that keep ``gap`` [mm] apart, and the usable regions of sheets that they lie on.

    Everything is worked out when first asked for, and kept. Numbers of ``shapes`` and ``regions`` are
    those of the sequences given; a region is what a part itself may cover.
    """

    def __init__(self, shapes: Sequence[FlatShape], regions: Sequence[Region], gap: float) -> None:
        self.shapes, self.regions, self.gap = tuple(shapes), tuple(regions), gap
        # parts that differ only within their outline fit alike
        self._alike = [
            next(k for k, other in enumerate(self.shapes) if np.array_equal(shape.corners, other.corners))
            for shape in self.shapes
        ]
        self._fitted: dict[tuple[int, float], Fitted] = {}
        self._no_fit: dict[tuple[int, int, float], shapely.Geometry] = {}
        self._turned: dict[tuple[int, int, float, float], shapely.Geometry] = {}
        self._on_sheet: dict[tuple[int, Turned], shapely.Geometry] = {}
        self._in_waste: dict[tuple[Turned, int, Turned], shapely.Geometry] = {}

    def fitted(self, one: Turned) -> Fitted:
        """A shape in one of its turns."""
        return self._in_turn(self._alike[one[0]], self.shapes[one[0]].turns[one[1]])

    def _in_turn(self, shape: int, turn: float) -> Fitted:
        if (shape, turn) not in self._fitted:
            self._fitted[shape, turn] = fitted(turned_places(self.shapes[shape].corners, turn), self.gap)
        return self._fitted[shape, turn]

    def no_fit(self, fixed: Turned, moved: Turned) -> shapely.Geometry:
        """Where ``moved`` may not stand beside ``fixed`` at (0, 0)."""
        first, second = self._alike[fixed[0]], self._alike[moved[0]]
        turn, other = self.shapes[fixed[0]].turns[fixed[1]], self.shapes[moved[0]].turns[moved[1]]
        apart = round((other - turn) % 360.0, 9) % 360.0
        if (first, second, apart) not in self._no_fit:
            # turned together they fit as they did
            self._no_fit[first, second, apart] = no_fit(
                self._in_turn(first, 0.0), self._in_turn(second, apart)
            )
        found = self._no_fit[first, second, apart]
        if turn == 0.0:
            return found
        if (first, second, apart, turn) not in self._turned:
            self._turned[first, second, apart, turn] = shapely.transform(
                found, lambda xy: turned_places(xy, turn)
            )
        return self._turned[first, second, apart, turn]

    def on_sheet(self, region: int, moved: Turned) -> shapely.Geometry:
        """Where ``moved`` may stand on an empty sheet."""
        if (region, moved) not in self._on_sheet:
            self._on_sheet[region, moved] = inner_fit(self.regions[region], self.fitted(moved))
        return self._on_sheet[region, moved]

    def in_waste(self, ring: Turned, opening: int, moved: Turned) -> shapely.Geometry:
        """Where ``moved`` may stand in the waste of an opening of ``ring`` at (0, 0), a gap from its edge."""
        key = (ring, opening, moved)
        if key not in self._in_waste:
            shape = self.shapes[ring[0]]
            hole = shapely.Polygon(turned_places(shape.wastes[opening], shape.turns[ring[1]]))
            room = hole.buffer(-self.gap, join_style="mitre")
            found = shapely.Polygon() if room.is_empty else inner_fit(Region(room), self.fitted(moved))
            self._in_waste[key] = found
        return self._in_waste[key]
