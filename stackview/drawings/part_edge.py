"""One edge of a part once more, enlarged: where most of its cuts meet, and square to the edge if that can be.

Every number beside it comes from the description and the exact curves.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from stackview.curves.arcs import polygon
from stackview.curves.fit import inside
from stackview.description.lamp import Bore, Chamfer, Groove, Opening, Recess
from stackview.description.units import MILLIMETRES, Units
from stackview.drawings.cut_words import least_wall
from stackview.drawings.dimension_lines import ROW_STEP, Measure, Rows, draw_measures
from stackview.drawings.label_room import LabelRoom
from stackview.drawings.paper import BROAD_LINE, Paper, PaperBox
from stackview.drawings.part_section import (
    STANDARD_SCALES,
    PartSection,
    draw_material,
    reach,
    section_of_part,
)
from stackview.shop.cut_places import middle_of
from stackview.shop.drawn_cuts import DrawnCut
from stackview.shop.part_sheet import PartSheet

_BACK = 180.0
_SIDES = (_BACK, 90.0, 270.0, 0.0)
_NEAR = 1.8
"""Cuts no farther in from the edge than so many thicknesses belong to it."""
_SQUARE = 0.02
"""A wall measured in the plane is the least one if it is no more than this longer [mm]."""
_MOST_EXTREMES = 12
_WORTH_DRAWING = 3.0
"""A bevel or a groove that is narrower on the paper is told by the table alone [mm]."""
_CAPTION = 14.0
"""Room below and above an edge's rows, and for its name [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class EdgeView:
    """An edge to be drawn enlarged: the section that shows it, how much of it, and how large."""

    section: PartSection
    depth: float
    """How far in from the edge it is drawn [mm]."""
    scale: float

    @property
    def height(self) -> float:
        """How tall it is on the paper with its dimensions [mm]."""
        below, above, _ = _edge_measures(self, (0.0, 0.0), MILLIMETRES)
        rows = max(len(below), 1) + max(len(above), 1)
        return self.scale * self.section.box[3] + ROW_STEP * rows + _CAPTION

    @property
    def above(self) -> float:
        """Room for its dimensions above it [mm]."""
        return ROW_STEP * max(len(_edge_measures(self, (0.0, 0.0), MILLIMETRES)[1]), 1) + 2.0

    @property
    def bearing(self) -> float:
        """Where round the part the edge is [°]."""
        return self.section.bearing

    @property
    def is_of_section(self) -> bool:
        """Whether it is an end of the section A–A, from front to back."""
        return self.bearing in (0.0, _BACK)

    @property
    def words(self) -> str:
        """Where it is, for its caption."""
        if self.is_of_section:
            return f"{'back' if self.bearing == _BACK else 'front'} edge of A–A"
        side = {90.0: "right", 270.0: "left"}.get(self.bearing)
        return f"{side} edge, B" if side else f"edge B, bearing {self.bearing:.4g}°"


def best_edge(
    sheet: PartSheet, back: PartSection | None, chord_error: float, width: float, tall: float
) -> EdgeView | None:
    """The edge that shows most, to fit ``width`` and ``tall`` [mm]; that of ``back``, the section A–A, if as good.

    None where no edge has anything that is worth it.
    """
    found = sorted(_bearings(sheet), key=lambda bearing: -_worth(sheet, bearing))
    for bearing in found:
        if _worth(sheet, bearing) == 0:
            return None
        section = back if bearing == _BACK else section_of_part(sheet, chord_error, bearing)
        edge = None if section is None else edge_view(section, width, tall)
        if edge is not None:
            return edge
    return None


def _bearings(sheet: PartSheet) -> Iterator[float]:
    """Where to look: the four sides, cuts that stand off the axis, and where the outline is square to its bearing."""
    yield from _SIDES
    seen = set(_SIDES)
    for bearing in (*_off_axis(sheet), *_extremes(sheet)):
        if bearing not in seen:
            seen.add(bearing)
            yield bearing


def _off_axis(sheet: PartSheet) -> Iterator[float]:
    for cut in sheet.cuts[1:]:
        if isinstance(cut.of, Bore):
            yield cut.of.bearing % 360.0
        elif isinstance(cut.of, Opening | Recess):
            for path in cut.paths[:6]:
                x, y = middle_of(path)
                if np.hypot(x, y) > 1e-6:
                    yield round(float(np.degrees(np.arctan2(x, -y))) % 360.0, 6) % 360.0


def _extremes(sheet: PartSheet) -> list[float]:
    """Bearings at which the outline comes nearest to the axis or farthest from it, the nearest first [°]."""
    corners = polygon(sheet.cuts[0].paths[0], 0.001)
    away = np.hypot(*corners.T)
    if np.ptp(away) < 1e-6:
        return []
    least = (away <= np.roll(away, 1)) & (away < np.roll(away, -1))
    most = (away >= np.roll(away, 1)) & (away > np.roll(away, -1))
    index = np.flatnonzero(least | most)
    index = index[np.argsort(away[index])][:_MOST_EXTREMES]
    bearings = np.degrees(np.arctan2(corners[index, 0], -corners[index, 1])) % 360.0
    return [round(float(value), 4) % 360.0 for value in bearings]


def _worth(sheet: PartSheet, bearing: float) -> int:
    """How many cuts an edge shows; those whose walls are measured square to them count double."""
    met = _met(sheet, bearing)
    if not any(isinstance(cut.of, Recess | Groove | Chamfer | Bore) for cut, _ in met):
        return 0
    outer = sheet.cuts[0].paths[0]
    worth = 0
    for number in {id(cut): k for k, (cut, _) in enumerate(met)}.values():
        cut, depth = met[number]
        if isinstance(cut.of, Bore) and abs((cut.of.bearing - bearing + 180.0) % 360.0 - 180.0) > 1e-6:
            continue
        square = isinstance(cut.of, Opening | Recess) and abs(depth - least_wall(cut, outer)) < _SQUARE
        worth += 2 if square or isinstance(cut.of, Groove | Bore) else 1
    return worth


def _met(sheet: PartSheet, bearing: float) -> list[tuple[DrawnCut, float]]:
    """Cuts near the edge, with how far in from it each is met [mm]; a ring's nearest curve is what counts."""
    rims = reach(sheet.cuts[0].paths[0], bearing)
    if not rims:
        return []
    rim, thick = rims[-1], sheet.layer.thickness
    found = []
    for cut in sheet.cuts[1:]:
        depths = [rim - max(met) for path in cut.paths if (met := reach(path, bearing))]
        near = [depth for depth in depths if 0.0 <= depth < _NEAR * thick]
        if near:
            found.append((cut, min(near)))
    return found


def edge_view(section: PartSection, width: float, tall: float) -> EdgeView | None:
    """The largest standard scale at which an edge fits ``width`` and ``tall`` [mm], if it is worth it."""
    sheet = section.sheet
    met = _met(sheet, section.bearing)
    if not any(isinstance(cut.of, Recess | Groove | Chamfer | Bore) for cut, _ in met):
        return None
    thick = sheet.layer.thickness
    inner = [depth for cut, depth in met if isinstance(cut.of, Opening | Recess) and depth > 0.0]
    depth = max(inner) + max(0.25 * thick, 2.0) if inner else thick
    depth = min(depth, section.rim - section.box[0])
    for scale in STANDARD_SCALES:
        if scale * depth <= width and scale * thick <= tall:
            return EdgeView(section, depth, scale)
    return None


def draw_edge(
    paper: Paper, edge: EdgeView, corner: tuple[float, float], units: Units, region: PaperBox
) -> list[str]:
    """Draw the edge with its lower inner corner at ``corner``; returns labels without room."""
    section, scale = edge.section, edge.scale
    rim = section.rim
    at = (corner[0] - scale * (rim - edge.depth), corner[1])
    window = shapely.box(rim - edge.depth, -1.0, rim + 1.0, section.box[3] + 1.0)
    draw_material(paper, shapely.intersection(section.material, window), at, scale, BROAD_LINE)
    room = LabelRoom(region)
    left: list[str] = []
    below, above, inner = _edge_measures(edge, at, units)
    top = at[1] + scale * section.box[3]
    left += draw_measures(paper, room, Rows(True, at[1] - 6.0, -ROW_STEP), below)
    left += draw_measures(paper, room, Rows(True, top + 4.0, ROW_STEP), above)
    left += draw_measures(
        paper, room, Rows(False, at[0] + scale * rim + 6.0, ROW_STEP), _heights_of(edge, at, units)
    )
    left += draw_measures(paper, room, Rows(False, corner[0] - 4.0, -ROW_STEP), inner)
    return left


def _heights_of(edge: EdgeView, at: tuple[float, float], units: Units) -> list[Measure]:
    """Thickness, and how high the middle of a bore lies that begins here."""
    sheet, scale = edge.section.sheet, edge.scale
    x = at[0] + scale * edge.section.rim
    bores = [
        cut.of.height
        for cut in sheet.cuts
        if isinstance(cut.of, Bore) and abs((cut.of.bearing - edge.bearing + 180.0) % 360.0 - 180.0) < 1e-6
    ]
    heights = [sheet.layer.thickness, *bores]
    return [Measure(at[1], at[1] + scale * height, (x, x), units.plain(height)) for height in heights]


def _edge_measures(
    edge: EdgeView, at: tuple[float, float], units: Units
) -> tuple[list[Measure], list[Measure], list[Measure]]:
    """Lengths in from the edge, and ledges: below (underside, wall), above (top); and depths at the inner side."""
    sheet, scale = edge.section.sheet, edge.scale
    thick, rim, outer_path = sheet.layer.thickness, edge.section.rim, sheet.cuts[0].paths[0]
    outer = at[0] + scale * rim
    sides: dict[str, list[Measure]] = {"top": [], "underside": []}
    foot = {"top": at[1] + scale * thick, "underside": at[1]}
    depths = []
    met = _met(sheet, edge.bearing)
    openings = [
        (cut.paths[0], depth)
        for cut, depth in met
        if isinstance(cut.of, Opening) and abs(depth - least_wall(cut, outer_path)) < _SQUARE
    ]
    for cut, wall in met:
        side = cut.face or "underside"
        if isinstance(cut.of, Chamfer | Groove):
            span = _bevel_or_groove(edge, cut)
            if span is not None and scale * cut.of.width >= _WORTH_DRAWING:
                low, high = (at[0] + scale * (rim - depth) for depth in span)
                width = units.plain(cut.of.width)
                sides[side].append(Measure(low, high, (foot[side], foot[side]), width))
        if not isinstance(cut.of, Opening | Recess) or not 0.0 < wall < edge.depth:
            continue
        x = at[0] + scale * (rim - wall)
        # across a slanting edge the cut is longer than the wall that the table tells
        is_square = abs(wall - least_wall(cut, outer_path)) < _SQUARE
        if is_square:
            sides[side].append(Measure(x, outer, (foot[side], foot[side]), units.plain(wall)))
        if not isinstance(cut.of, Recess):
            continue
        z = thick - cut.of.depth if side == "top" else cut.of.depth
        ends = sorted((at[1] + scale * z, foot[side]))
        inner = at[0] + scale * (rim - edge.depth)
        depths.append(Measure(ends[0], ends[1], (inner, inner), units.plain(cut.of.depth)))
        # both are measured square to the edge, and so is what lies between them
        for opening, depth in openings:
            ledge = depth - wall
            if not (is_square and ledge > 0.0 and inside(opening, cut.paths[0]).fits):
                continue
            y = at[1] + scale * z
            sides[side].append(Measure(x - scale * ledge, x, (y, y), units.plain(ledge)))
    # a wall and a ledge that are alike on both faces are told once
    told = [(one.low, one.high) for one in sides["top"]]
    below = [one for one in sides["underside"] if (one.low, one.high) not in told]
    return below, sides["top"], depths


def _bevel_or_groove(edge: EdgeView, cut: DrawnCut) -> tuple[float, float] | None:
    """Between which depths in from the edge a bevel of it or a groove lies [mm]; None where it is met aslant."""
    rim, of = edge.section.rim, cut.of
    depths = [rim - max(met) for path in cut.paths if (met := reach(path, edge.bearing))]
    if isinstance(of, Chamfer):
        depths = [0.0, *depths] if of.edge.endswith("outer") else []
    if len(depths) != 2 or not isinstance(of, Chamfer | Groove):
        return None
    near, far = min(depths), max(depths)
    is_square = abs(far - near - of.width) < _SQUARE and far < edge.depth
    return (far, near) if is_square else None
