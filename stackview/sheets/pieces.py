"""Parts of a lamp as they lie on a sheet: worked face up, their grain along the board's."""

from dataclasses import dataclass, field

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.curves.arcs import Path, area, moved, pieces_of, turned
from stackview.curves.one_form import mirrored_path
from stackview.description.lamp import Layer
from stackview.description.outline import around, path_of
from stackview.one_line import one_line
from stackview.sheets.facets import inner_facets, outer_facets
from stackview.sheets.fits import FlatShape, turned_places
from stackview.shop.cut_part import CutPart

FACET_ERROR = 0.01
"""How far facets may stand off a part's curve, always to the safe side [mm]."""
_MOST_TURNS = 8
"""Turns that are tried of a part without a grain."""
_SAME = 1e-4
"""Corners this near are the same [mm]."""


@dataclass(frozen=True, slots=True)
class SheetPart:
    """A different part that is cut from sheets."""

    number: int
    """Its number on the drawings, from 1, in the order of the stack."""
    part: CutPart
    underside_up: bool
    """Whether it lies with its underside up: it is worked on from that face alone."""
    marks: tuple[Floats, ...] = field(default=(), compare=False)
    """Lines (2, 2) by which it is turned at the glue-up, in the part's own frame [mm]."""

    __repr__ = one_line

    @property
    def layer(self) -> Layer:
        """What it is cut to, in its own frame."""
        return self.part.layer

    @property
    def count(self) -> int:
        """How many one lamp has."""
        return self.part.count

    @property
    def title(self) -> str:
        """Names of the layers that are cut so, in short."""
        return self.part.title

    @property
    def outline(self) -> Path:
        """Its edge as seen on the sheet, its own origin at (0, 0)."""
        return self._seen(path_of(self.layer.outline, "outline"))

    @property
    def openings(self) -> tuple[Path, ...]:
        """Its holes right through, as seen on the sheet."""
        every = (
            path
            for one in self.layer.openings
            for path in around(path_of(one.outline, "opening"), one.around)
        )
        return tuple(self._seen(path) for path in every)

    @property
    def grain(self) -> float | None:
        """Bearing of its grain as seen on the sheet [°]; None without one."""
        if not self.layer.material.is_figured:
            return None
        return -self.layer.grain % 180.0 if self.underside_up else self.layer.grain % 180.0

    @property
    def net_area(self) -> float:
        """What of the sheet it is, its openings taken off [mm²]."""
        return area(self.outline) - sum(area(path) for path in self.openings)

    def _seen(self, path: Path) -> Path:
        return mirrored_path(path) if self.underside_up else path


def sheet_part(number: int, part: CutPart, marks: tuple[Floats, ...] = ()) -> SheetPart:
    """Make a part ready, with its index marks; it lies with its underside up where only that is worked on."""
    layer = part.layer
    faces: set[str] = {one.face for one in layer.recesses} | {one.face for one in layer.grooves}
    faces |= {"top" if one.edge.startswith("top") else "underside" for one in layer.chamfers}
    return SheetPart(number, part, faces == {"underside"}, marks)


def outline_middle(part: SheetPart) -> Floats:
    """The centre of the shape that a part's outline encloses (2,) [mm], about which it is turned."""
    return np.array(shapely.Polygon(outer_facets(part.outline, FACET_ERROR)).centroid.coords[0])


def flat_shape(part: SheetPart, gap: float) -> FlatShape:
    """A part as a shape to be laid, its origin in its middle.

    With a grain it has the two turns that bring that along x; without one, those that bring its straight
    sides level or upright, up to eight. Turns that change nothing are left out. Openings count as waste
    where anything is left of them inside the ``gap`` [mm] and they do not run into each other.
    """
    x, y = outline_middle(part)
    outline = moved(part.outline, -x, -y)
    corners = outer_facets(outline, FACET_ERROR)
    wastes = [inner_facets(moved(path, -x, -y), FACET_ERROR) for path in part.openings]
    holes = [shapely.Polygon(waste) for waste in wastes]
    wastes = [
        waste
        for k, waste in enumerate(wastes)
        if not holes[k].buffer(-gap).is_empty
        and not any(holes[k].intersects(o) for o in holes[:k] + holes[k + 1 :])
    ]
    grain = part.grain
    turns = _turns_of(outline) if grain is None else [(90.0 - grain) % 360.0, (270.0 - grain) % 360.0]
    kept: list[float] = []
    for turn in turns:
        if not any(_same_turned((corners, *wastes), turn - other) for other in kept):
            kept.append(turn)
    return FlatShape(corners, tuple(kept[:_MOST_TURNS]), tuple(wastes), part.net_area)


def _turns_of(outline: Path) -> list[float]:
    """As it is drawn and by quarters of a turn, then so that its straight sides lie level, the longest first [°]."""
    p = pieces_of(outline)
    sides = (p.end - p.start)[~p.arc]
    long = np.hypot(*sides.T)
    order = np.argsort(-np.round(long, 6), kind="stable")[:_MOST_TURNS]
    level = [float(np.round(-np.degrees(np.arctan2(sides[k, 1], sides[k, 0])), 9)) % 360.0 for k in order]
    every = [quarter + turn for turn in (0.0, *level) for quarter in (0.0, 90.0, 180.0, 270.0)]
    return [turn % 360.0 for turn in every]


def _same_turned(shapes: tuple[Floats, ...], turn: float) -> bool:
    """Whether all shapes come to lie on themselves when they are turned about the origin [°]."""
    return turn % 360.0 == 0.0 or all(_same(shape, turned_places(shape, turn)) for shape in shapes)


def _same(one: Floats, other: Floats) -> bool:
    if len(one) != len(other):
        return False
    line, beside = shapely.LinearRing(one), shapely.LinearRing(other)
    return bool(
        shapely.distance(shapely.points(one), beside).max() <= _SAME
        and shapely.distance(shapely.points(other), line).max() <= _SAME
    )


def line_on_sheet(part: SheetPart, line: Floats, turn: float, x: float, y: float) -> Floats:
    """A line (k, 2) of a part's own frame as it lies on a sheet, as ``on_sheet`` has curves."""
    seen = line * np.array((-1.0, 1.0)) if part.underside_up else line
    return np.asarray(turned_places(seen, turn) + np.array((x, y)))


def on_sheet(part: SheetPart, path: Path, turn: float, x: float, y: float) -> Path:
    """A curve of a part's own frame as it lies on a sheet: turned [°], its frame's origin at (x, y) [mm]."""
    return moved(turned(mirrored_path(path) if part.underside_up else path, turn), x, y)
