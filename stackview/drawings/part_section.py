"""The section of a part by an upright plane through the axis, top up.

The cut is that of the part's solid; every number beside it comes from the description and the exact
curves. Hatching at 45° and hidden edges dashed, as ISO 128 has them (from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.curves.arcs import Path, bounds, pieces_of, turned
from stackview.curves.crossing import crossings
from stackview.curves.fit import inside
from stackview.description.lamp import Bore, Layer, Opening, Recess
from stackview.description.outline import path_of
from stackview.description.units import Units
from stackview.drawings.dimension_lines import ROW_STEP, Measure, Rows, draw_measures
from stackview.drawings.label_room import LabelRoom
from stackview.drawings.paper import (
    BROAD_LINE,
    HATCH,
    HIDDEN_EDGE,
    MIDDLE_LINE,
    MIDDLING,
    Paper,
    PaperBox,
    Pen,
)
from stackview.shop.drawn_cuts import DrawnCut
from stackview.shop.part_sheet import PartSheet
from stackview.solids.build import solid_of
from stackview.stack.section import cut_loops

_BACK = 180.0
STANDARD_SCALES = (50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
"""Of ISO 5455 (from memory)."""


@dataclass(frozen=True, slots=True, eq=False)
class PartSection:
    """Material cut by the upright plane through the axis, towards ``bearing`` [°] at the right: (across, z) [mm]."""

    sheet: PartSheet
    material: shapely.Geometry
    bearing: float = _BACK

    @property
    def box(self) -> PaperBox:
        """Least and greatest place across, and height: left, lower, right, upper."""
        left, low, right, high = self.material.bounds
        return left, low, right, high

    @property
    def rim(self) -> float:
        """How far out the exact outline reaches towards the bearing."""
        return reach(self.sheet.cuts[0].paths[0], self.bearing)[-1]


def section_of_part(sheet: PartSheet, chord_error: float, bearing: float = _BACK) -> PartSection | None:
    """Cut a part's one piece, its facets ``chord_error`` [mm] good; None where the plane misses it."""
    solid = solid_of(replace(sheet.layer, around=None), chord_error)
    loops = cut_loops(solid.vertices, solid.triangles, bearing)
    if not loops:
        return None
    rings = shapely.polygons([shapely.linearrings(loop) for loop in loops])
    # hollows run the other way round: what is counted an odd number of times is material
    material = rings[0]
    for ring in rings[1:]:
        material = shapely.symmetric_difference(material, ring)
    return PartSection(sheet, material, bearing)


def reach(path: Path, bearing: float) -> list[float]:
    """Where a curve meets the upright plane through the axis: [mm] towards a bearing [°], the least first."""
    return reach_back(path if bearing == _BACK else turned(path, _BACK - bearing))


def reach_back(path: Path) -> list[float]:
    """The same from front to back: y [mm]."""
    low, high = bounds(path)[1] - 1.0, bounds(path)[3] + 1.0
    line = pieces_of(Path(np.array(((0.0, low, 0.0), (0.0, high, 0.0)))))
    met = crossings(line, pieces_of(path))
    at = np.unique(np.round(low + met.u[met.i == 0] * (high - low), 9))
    return [float(y) for y in at]


def draw_section(
    paper: Paper, section: PartSection, at: tuple[float, float], scale: float, units: Units, room: LabelRoom
) -> list[str]:
    """Draw the whole section with the axis at ``at``, and its thickness; returns labels without room."""
    _draw_edges(paper, section, at, scale)
    draw_material(paper, section.material, at, scale, BROAD_LINE if scale >= 1.0 else MIDDLING)
    _, low, right, high = _scaled(section.box, at, scale)
    thick = section.sheet.layer.thickness
    rows = Rows(False, right + 7.0, ROW_STEP)
    return draw_measures(paper, room, rows, [Measure(low, high, (right, right), units.plain(thick))])


def draw_material(
    paper: Paper, material: shapely.Geometry, at: tuple[float, float], scale: float, pen: Pen
) -> None:
    """Outline and hatch cut material."""
    placed = shapely.transform(material, lambda points: points * scale + np.array(at))
    for ring in shapely.get_parts(shapely.boundary(placed)):
        paper.lines(pen, [shapely.get_coordinates(ring)])
    paper.lines(HATCH, _hatching(placed))


def _hatching(material: shapely.Geometry) -> list[Floats]:
    left, low, right, high = material.bounds
    step = 1.6 if high - low < 12.0 else 2.4
    tall = high - low
    starts = np.arange(left - tall, right, step * np.sqrt(2.0))
    lines = shapely.linestrings(
        [((start, low), (start + tall, high)) for start in starts] or [((left, low), (left, high))]
    )
    cut = shapely.intersection(lines, material)
    return [shapely.get_coordinates(part) for part in shapely.get_parts(cut) if part.length > 0.05]


def _scaled(box: PaperBox, at: tuple[float, float], scale: float) -> PaperBox:
    return (
        at[0] + scale * box[0],
        at[1] + scale * box[1],
        at[0] + scale * box[2],
        at[1] + scale * box[3],
    )


def _draw_edges(paper: Paper, section: PartSection, at: tuple[float, float], scale: float) -> None:
    """Edges beyond the cut: those of openings and recesses, and dashed those behind the material."""
    layer = section.sheet.layer

    def line(pen: Pen, y: Sequence[float], z: Sequence[float]) -> None:
        paper.lines(pen, [[(at[0] + scale * a, at[1] + scale * b) for a, b in zip(y, z, strict=True)]])

    for cut in section.sheet.cuts:
        for path in cut.paths:
            met = reach_back(path)
            x0, y0, x1, y1 = bounds(path)
            if isinstance(cut.of, Opening | Recess):
                low, high = _heights(cut, layer)
                if len(met) >= 2:
                    floors = [low, high] if isinstance(cut.of, Opening) else [layer.height_of(cut.of.face)]
                    for z in floors:
                        line(MIDDLING, (met[0], met[-1]), (z, z))
                elif x1 < 0.0:
                    line(HIDDEN_EDGE, (y0, y0, y1, y1, y0), (low, high, high, low, low))
            if isinstance(cut.of, Bore) and not met and x0 < 0.0:
                bore = cut.of
                low, high = bore.height - 0.5 * bore.diameter, bore.height + 0.5 * bore.diameter
                line(HIDDEN_EDGE, (y0, y0, y1, y1, y0), (low, high, high, low, low))
            if isinstance(cut.of, Bore) and met:
                line(MIDDLE_LINE, (y0 - 2.0 / scale, y1 + 3.0 / scale), (cut.of.height, cut.of.height))


def _heights(cut: DrawnCut, layer: Layer) -> tuple[float, float]:
    """Heights between which a recess lies, or an opening between the floors that it opens into."""
    thick = layer.thickness
    if isinstance(cut.of, Recess):
        return layer.heights_of_cut(cut.of.face, cut.of.depth)
    deep = {"top": 0.0, "underside": 0.0}
    for recess in layer.recesses:
        if inside(cut.paths[0], path_of(recess.outline, "recess")).fits:
            deep[recess.face] = max(deep[recess.face], recess.depth)
    return deep["underside"], thick - deep["top"]
