"""The section of a part from front to back, top up, and its back edge once more, enlarged.

The cut is that of the part's solid; every number beside it comes from the description and the exact
curves. Hatching at 45° and hidden edges dashed, as ISO 128 has them (from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.curves.arcs import Path, bounds, pieces_of
from stackview.curves.crossing import crossings
from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening, Recess
from stackview.description.outline import path_of
from stackview.description.units import Units
from stackview.drawings.cut_words import least_wall
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
    """Material cut by the upright plane through the axis, from front (left) to back: (y, z) [mm]."""

    sheet: PartSheet
    material: shapely.Geometry

    @property
    def box(self) -> PaperBox:
        """Least y, least z, greatest y, greatest z."""
        left, low, right, high = self.material.bounds
        return left, low, right, high

    @property
    def back(self) -> float:
        """How far back the exact outline reaches in the plane."""
        return reach_back(self.sheet.cuts[0].paths[0])[-1]


def section_of_part(sheet: PartSheet, chord_error: float) -> PartSection | None:
    """Cut a part's one piece, its facets ``chord_error`` [mm] good; None where the plane misses it."""
    solid = solid_of(replace(sheet.layer, around=None), chord_error)
    loops = cut_loops(solid.vertices, solid.triangles, _BACK)
    if not loops:
        return None
    rings = shapely.polygons([shapely.linearrings(loop) for loop in loops])
    # hollows run the other way round: what is counted an odd number of times is material
    material = rings[0]
    for ring in rings[1:]:
        material = shapely.symmetric_difference(material, ring)
    return PartSection(sheet, material)


def reach_back(path: Path) -> list[float]:
    """Where a curve meets the section's plane: y [mm], from front to back."""
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
    thick = layer.thickness

    def line(pen: Pen, y: Sequence[float], z: Sequence[float]) -> None:
        paper.lines(pen, [[(at[0] + scale * a, at[1] + scale * b) for a, b in zip(y, z, strict=True)]])

    for cut in section.sheet.cuts:
        for path in cut.paths:
            met = reach_back(path)
            x0, y0, x1, y1 = bounds(path)
            if isinstance(cut.of, Opening | Recess):
                low, high = _heights(cut, layer)
                if len(met) >= 2:
                    floors = [low, high] if isinstance(cut.of, Opening) else [_face_height(cut, thick)]
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


def _face_height(cut: DrawnCut, thick: float) -> float:
    return thick if cut.face == "top" else 0.0


def _heights(cut: DrawnCut, layer: Layer) -> tuple[float, float]:
    """Heights between which a recess lies, or an opening between the floors that it opens into."""
    thick = layer.thickness
    if isinstance(cut.of, Recess):
        depth = cut.of.depth
        return (thick - depth, thick) if cut.face == "top" else (0.0, depth)
    deep = {"top": 0.0, "underside": 0.0}
    y = max((abs(value) for value in reach_back(cut.paths[0])), default=0.0)
    for recess in layer.recesses:
        reach = max((abs(value) for value in reach_back(path_of(recess.outline, "recess"))), default=0.0)
        if reach > y:
            deep[recess.face] = max(deep[recess.face], recess.depth)
    return deep["underside"], thick - deep["top"]


@dataclass(frozen=True, slots=True, eq=False)
class EdgeView:
    """The back edge to be drawn enlarged: how much of it, and how large."""

    section: PartSection
    depth: float
    """How far in from the back edge it is drawn [mm]."""
    scale: float

    @property
    def height(self) -> float:
        """How tall it is on the paper with its dimensions [mm]."""
        return self.scale * self.section.box[3] + 3.0 * ROW_STEP + 14.0


def edge_view(section: PartSection, width: float, tall: float) -> EdgeView | None:
    """The largest standard scale at which the back edge fits ``width`` and ``tall`` [mm], if it is worth it."""
    sheet = section.sheet
    back = section.back
    met = [(cut, max(found)) for cut in sheet.cuts for path in cut.paths if (found := reach_back(path))]
    thick = sheet.layer.thickness
    near = [(cut, back - y) for cut, y in met if 0.0 <= back - y < 1.8 * thick]
    if not any(isinstance(cut.of, Recess | Groove | Chamfer | Bore) for cut, _ in near):
        return None
    inner = [depth for cut, depth in near if isinstance(cut.of, Opening | Recess) and depth > 0.0]
    depth = max(inner) + max(0.25 * thick, 2.0) if inner else thick
    depth = min(depth, back - section.box[0])
    for scale in STANDARD_SCALES:
        if scale * depth <= width and scale * thick <= tall:
            return EdgeView(section, depth, scale)
    return None


def draw_edge(
    paper: Paper, edge: EdgeView, corner: tuple[float, float], units: Units, region: PaperBox
) -> list[str]:
    """Draw the back edge with its lower inner corner at ``corner``; returns labels without room."""
    section, scale = edge.section, edge.scale
    back = section.back
    at = (corner[0] - scale * (back - edge.depth), corner[1])
    window = shapely.box(back - edge.depth, -1.0, back + 1.0, section.box[3] + 1.0)
    shown = shapely.intersection(section.material, window)
    draw_material(paper, shown, at, scale, BROAD_LINE)
    room = LabelRoom(region)
    left: list[str] = []
    below, above, inside = _edge_measures(edge, at, units)
    top = at[1] + scale * section.box[3]
    left += draw_measures(paper, room, Rows(True, at[1] - 6.0, -ROW_STEP), below)
    left += draw_measures(paper, room, Rows(True, top + 4.0, ROW_STEP), above)
    left += draw_measures(
        paper, room, Rows(False, at[0] + scale * back + 6.0, ROW_STEP), _heights_of(edge, at, units)
    )
    left += draw_measures(paper, room, Rows(False, corner[0] - 4.0, -ROW_STEP), inside)
    return left


def _heights_of(edge: EdgeView, at: tuple[float, float], units: Units) -> list[Measure]:
    """Thickness, and how high a bore's middle lies."""
    sheet, scale = edge.section.sheet, edge.scale
    x = at[0] + scale * edge.section.back
    thick = sheet.layer.thickness
    from_back = [
        cut.of.height
        for cut in sheet.cuts
        if isinstance(cut.of, Bore) and reach_back(cut.paths[0])[-1:] >= [0.5 * edge.section.back]
    ]
    heights = [thick, *from_back]
    return [Measure(at[1], at[1] + scale * height, (x, x), units.plain(height)) for height in heights]


def _edge_measures(
    edge: EdgeView, at: tuple[float, float], units: Units
) -> tuple[list[Measure], list[Measure], list[Measure]]:
    """Lengths in from the back edge: below (underside, wall), above (top), and depths at the inner side."""
    sheet, scale = edge.section.sheet, edge.scale
    thick, back = sheet.layer.thickness, edge.section.back
    outer = at[0] + scale * back
    below, above, inside = [], [], []
    for cut in sheet.cuts:
        if not isinstance(cut.of, Opening | Recess):
            continue
        met = max((max(found) for path in cut.paths if (found := reach_back(path))), default=0.0)
        if not back - edge.depth < met < back:
            continue
        x = at[0] + scale * met
        wall = back - met
        label = units.plain(wall)
        # across a slanting edge the cut is longer than the wall that the table tells
        is_wall = abs(wall - least_wall(cut, sheet.cuts[0].paths[0])) < 0.02
        if isinstance(cut.of, Recess):
            z = thick - cut.of.depth if cut.face == "top" else cut.of.depth
            ends = sorted((at[1] + scale * z, at[1] + scale * _face_height(cut, thick)))
            foot = at[0] + scale * (back - edge.depth)
            inside.append(Measure(ends[0], ends[1], (foot, foot), units.plain(cut.of.depth)))
            if cut.face == "top":
                top = at[1] + scale * thick
                if is_wall:
                    above.append(Measure(x, outer, (top, top), label))
                continue
        if is_wall:
            below.append(Measure(x, outer, (at[1], at[1]), label))
    return below, above, inside
