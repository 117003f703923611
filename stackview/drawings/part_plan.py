"""The plan of a part: seen from above, what lies underneath dashed, with dimensions and numbers.

Habits of ISO 128 (from memory): visible edges broad, hidden ones dashed, middle lines and pitch
circles long-dash-dot, the section's plane marked by its ends and letters.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.curves.arcs import Path, bounds, cos_sin, polygon
from stackview.description.lamp import Bore, Chamfer, FaceSide, Groove, Opening
from stackview.description.outline import Outline
from stackview.description.units import Units
from stackview.drawings.cut_words import spans_about_axis
from stackview.drawings.dimension_lines import ROW_STEP, Measure, Rows, arrow, draw_measures
from stackview.drawings.label_room import LabelRoom
from stackview.drawings.paper import (
    BROAD_LINE,
    CUT_LINE,
    FINE_LINE,
    HIDDEN_EDGE,
    LARGE_LETTERS,
    MIDDLE_LINE,
    MIDDLING,
    PLAIN_LETTERS,
    SMALL_LETTERS,
    Paper,
    PaperBox,
    Pen,
    words_box,
    words_width,
)
from stackview.shop.cut_places import middle_of
from stackview.shop.drawn_cuts import DrawnCut, circle_of
from stackview.shop.part_sheet import IndexMark, PartSheet
from stackview.solids.cuts import bore_entry

BALLOON = 2.4
"""Radius of the circle round a number [mm]."""
_BELOW, _BESIDE = 13.0, 7.5
"""From the plan to the first row of dimensions: below it, past the section's letter, and at its left [mm]."""
_SMALL_HOLE = 0.45
"""Round holes about the axis of less than this share of the part are told in the table alone."""
_SAGITTA = 0.02
"""Lines that labels avoid lie this near to their curves [mm on the part]."""


@dataclass(frozen=True, slots=True)
class PlanView:
    """Where the plan stands: the axis's place on the paper and the scale."""

    at: tuple[float, float]
    scale: float
    hidden: FaceSide = "underside"
    """The face that lies underneath: what is cut into it is dashed."""
    edge: float | None = None
    """Bearing of an edge that is drawn enlarged, if it is not one of A–A [°]."""

    def place(self, x: float, y: float) -> tuple[float, float]:
        """A place of the part on the paper."""
        return self.at[0] + self.scale * x, self.at[1] + self.scale * y

    def places(self, points: Floats) -> Floats:
        """Places (k, 2) of the part on the paper."""
        placed: Floats = np.asarray(points) * self.scale + np.array(self.at)
        return placed


def plan_measures(sheet: PartSheet, units: Units, *, level: bool) -> list[tuple[float, float, str]]:
    """What is dimensioned along x (or y): ends on the part and label, no span twice."""
    found: dict[tuple[float, float], str] = {}
    axis = 0 if level else 1
    outer = bounds(sheet.cuts[0].paths[0])
    for cut in sheet.cuts:
        path = spans_about_axis(cut)
        if path is None:
            continue
        box = bounds(path)
        low, high = box[axis], box[axis + 2]
        round_ = circle_of(path) is not None
        if round_ and cut is not sheet.cuts[0] and high - low < _SMALL_HOLE * (outer[axis + 2] - outer[axis]):
            continue  # the table says it; its extension lines would run through everything
        if round_ and not level and abs(low + high) < 1e-6:
            continue  # a circle's diameter is told once
        span = units.plain(high - low)
        found.setdefault((round(low, 2), round(high, 2)), f"⌀ {span}" if round_ else span)
    low, high = outer[axis], outer[axis + 2]
    if abs(low + high) > 0.01 and low < 0.0 < high:
        found.setdefault((0.0, round(high, 2)), units.plain(high))
    return [(low, high, label) for (low, high), label in found.items()]


def room_beside(sheet: PartSheet, units: Units) -> tuple[float, float]:
    """Space that the plan's dimensions take at its left and below it [mm]."""
    upright, level = (len(plan_measures(sheet, units, level=level)) for level in (False, True))
    return _BESIDE + ROW_STEP * upright, _BELOW + ROW_STEP * (level - 0.5)


def draw_plan(paper: Paper, sheet: PartSheet, view: PlanView, units: Units, region: PaperBox) -> list[str]:
    """Draw plan, dimensions, marks and numbers; returns labels for which the region has no room."""
    room = LabelRoom(region)
    for cut in sheet.cuts:
        for path in cut.paths:
            paper.curve(_pen(cut, view.hidden), path, view.scale, view.at)
    middles = _draw_middles(paper, sheet, view)
    box = _on_paper(bounds(sheet.cuts[0].paths[0]), view)
    if view.hidden == "underside":
        _draw_cut_line(paper, room, view, box)
    left = _draw_dimensions(paper, room, sheet, view, units, box)
    # all that labels keep clear of
    curves = [_loop(path, view) for cut in sheet.cuts for path in cut.paths]
    for loop in (*curves, *middles):
        room.take_line(loop)
    if view.edge is not None:
        _draw_edge_mark(paper, room, sheet, view, view.edge)
    for mark in sheet.marks:
        left += _draw_mark(paper, room, mark, view)
    for number, cut in enumerate(sheet.cuts, 1):
        if view.hidden == "top" and cut.face == "top":
            continue  # its number stands on the plan from above
        left += _draw_balloon(paper, room, str(number), cut, view, curves)
    if sheet.layer.material.is_figured:
        left += _draw_grain(paper, room, sheet.layer.grain, box)
    return left


def _pen(cut: DrawnCut, hidden: FaceSide) -> Pen:
    if cut.face == hidden or isinstance(cut.of, Bore):
        return HIDDEN_EDGE
    if isinstance(cut.of, Outline | Opening):
        return BROAD_LINE
    return FINE_LINE if isinstance(cut.of, Chamfer) else MIDDLING


def _on_paper(box: PaperBox, view: PlanView) -> PaperBox:
    return (*view.place(*box[:2]), *view.place(*box[2:]))


def _loop(path: Path, view: PlanView) -> Floats:
    corners = polygon(path, _SAGITTA)
    return view.places(np.concatenate((corners, corners[:1])))


def _draw_middles(paper: Paper, sheet: PartSheet, view: PlanView) -> list[Floats]:
    """Crosses at the axis and at the middle of every round hole; pitch circles and bores' middle lines."""
    drawn: list[Floats] = []
    crosses = [(0.0, 0.0, 4.0)]
    for cut in sheet.cuts[1:]:
        rounds = [circle_of(path) for path in cut.paths]
        if isinstance(cut.of, Bore):
            corners = view.places(cut.paths[0].vertices[:, :2])
            inner, outer = 0.5 * (corners[0] + corners[3]), 0.5 * (corners[1] + corners[2])
            along = (outer - inner) / np.hypot(*(outer - inner))
            drawn.append(np.array((inner - 2.0 * along, outer + 4.0 * along)))
            continue
        if isinstance(cut.of, Groove | Chamfer):
            continue
        crosses += [(*found[0].tolist(), view.scale * found[1] + 2.0) for found in rounds if found]
        away = [float(np.hypot(*middle_of(path))) for path in cut.paths]
        if len(away) > 1 and max(away) - min(away) < 1e-6:
            turn = np.linspace(0.0, 2.0 * np.pi, 181)
            ring = away[0] * np.column_stack((np.cos(turn), np.sin(turn)))
            drawn += [view.places(arc) for arc in _within(ring, sheet.cuts[0].paths[0])]
    for x, y, arm in crosses:
        u, v = view.place(x, y)
        arm = min(arm, 12.0)
        drawn += [np.array(((u - arm, v), (u + arm, v))), np.array(((u, v - arm), (u, v + arm)))]
    paper.lines(MIDDLE_LINE, drawn)
    return drawn


def _within(ring: Floats, outer: Path) -> list[Floats]:
    """What of a pitch circle lies on the part: elsewhere it would run through letters."""
    part = shapely.Polygon(polygon(outer, _SAGITTA))
    inside = shapely.line_merge(shapely.intersection(shapely.LineString(ring), part))
    return [shapely.get_coordinates(arc) for arc in shapely.get_parts(inside) if arc.length > 0.0]


def _draw_cut_line(paper: Paper, room: LabelRoom, view: PlanView, box: PaperBox) -> None:
    """Both ends of the section's plane, which is looked at from the right, with their letters."""
    x = view.at[0]
    for end, way in ((box[1], -1.0), (box[3], 1.0)):
        first, last = end + 1.0 * way, end + 5.0 * way
        paper.lines(BROAD_LINE, [[(x, first), (x, last)]])
        paper.lines(CUT_LINE, [[(x, last), (x + 5.0, last)]])
        arrow(paper, (x + 0.3, last), (1.0, 0.0))
        foot = last - 0.5 * LARGE_LETTERS
        room.take(paper.write((x + 6.0, foot), "A", tall=LARGE_LETTERS, bold=True))
        room.take((x - 1.0, min(first, last), x + 5.0, max(first, last)))


def _draw_edge_mark(paper: Paper, room: LabelRoom, sheet: PartSheet, view: PlanView, bearing: float) -> None:
    """A stroke at the edge that is drawn enlarged, with its letter outside of it, or inside if need be."""
    cos, sin = cos_sin(bearing)
    out = np.array((sin, -cos))
    edge = np.array(view.place(*(bore_entry(sheet.cuts[0].paths[0], bearing) * out)))
    ways = [(away, over) for over in (False, True) for away in (8.0, 11.0, 15.0, -10.0, -16.0, -22.0)]
    for away, over in ways:
        x, y = (edge + away * out).tolist()
        at = (x, y - 0.5 * LARGE_LETTERS)
        box = words_box(at, "B", tall=LARGE_LETTERS, across="center", bold=True)
        if room.is_free(box, over_lines=over):
            break
    side = 1.0 if away > 0.0 else -1.0
    line = np.array((edge + side * out, edge + (away - 3.0 * side) * out))
    paper.lines(BROAD_LINE, [line])
    room.take(paper.write(at, "B", tall=LARGE_LETTERS, across="center", bold=True))
    room.take_line(line)


def _draw_dimensions(
    paper: Paper, room: LabelRoom, sheet: PartSheet, view: PlanView, units: Units, box: PaperBox
) -> list[str]:
    left: list[str] = []
    for level in (True, False):
        axis = 0 if level else 1
        rows = Rows(level, box[1 - axis] - (_BELOW if level else _BESIDE), -ROW_STEP)
        measures = []
        for low, high, label in plan_measures(sheet, units, level=level):
            feet = _feet(sheet, view, axis, (low, high), box[1 - axis])
            ends = (view.at[axis] + view.scale * low, view.at[axis] + view.scale * high)
            measures.append(Measure(*ends, feet, label))
        left += draw_measures(paper, room, rows, measures)
    return left


def _feet(
    sheet: PartSheet, view: PlanView, axis: int, ends: tuple[float, float], edge: float
) -> tuple[float, float]:
    """Where on the paper the extension lines of a span begin: at the outermost place that reaches so far."""
    found = [edge, edge]
    for cut in sheet.cuts:
        path = spans_about_axis(cut)
        if path is None:
            continue
        corners = polygon(path, _SAGITTA)
        for k, end in enumerate(ends):
            near = corners[np.abs(corners[:, axis] - end) < 0.05]
            if len(near):
                found[k] = view.at[1 - axis] + view.scale * float(near[:, 1 - axis].min())
                if found[k] < edge:
                    found[k] = edge
    return found[0], found[1]


def _draw_mark(paper: Paper, room: LabelRoom, mark: IndexMark, view: PlanView) -> list[str]:
    """An index mark with its letter outside the edge."""
    edge, inner = view.places(mark.line)
    paper.lines(BROAD_LINE, [[edge, inner]])
    out = (edge - inner) / np.hypot(*(edge - inner))
    for away in (2.6, 5.0, 8.0, 11.0, 15.0):
        for aside in (0.0, 2.5, -2.5, 5.0, -5.0):
            x, y = edge + away * out + aside * np.array((-out[1], out[0]))
            at = (float(x), float(y) - 0.5 * SMALL_LETTERS)
            letter = words_box(at, mark.letter, tall=SMALL_LETTERS, across="center", bold=True)
            if room.is_free(letter, apart=0.3):
                paper.lines(FINE_LINE, [[edge + 0.4 * out, edge + (away - 1.6) * out]] if away > 3.0 else [])
                room.take(paper.write(at, mark.letter, tall=SMALL_LETTERS, across="center", bold=True))
                return []
    return [mark.letter]


def _draw_balloon(
    paper: Paper,
    room: LabelRoom,
    number: str,
    cut: DrawnCut,
    view: PlanView,
    curves: Sequence[Floats],
) -> list[str]:
    """A number in a circle, with a leader to the cut's curve where it crosses the fewest lines."""
    loops = [_loop(path, view) for path in cut.paths]
    anchors = np.concatenate([_spread(loop, max(24 // len(loops), 4)) for loop in loops])
    turns = np.radians(np.arange(0.0, 360.0, 15.0) + 7.5)
    ways = np.column_stack((np.cos(turns), np.sin(turns)))
    reach = np.array((6.0, 8.0, 11.0, 15.0, 20.0, 26.0, 33.0))
    a, w, r = (grid.ravel() for grid in np.meshgrid(*(np.arange(len(x)) for x in (anchors, ways, reach))))
    starts, ends = anchors[a], anchors[a] + ways[w] * reach[r][:, None]
    leaders = shapely.linestrings(np.stack((starts + 0.3 * ways[w], ends - BALLOON * ways[w]), axis=1))
    crossed = sum(shapely.intersects(leaders, _prepared(loop)).astype(int) for loop in curves)
    cost = reach[r] + 7.0 * crossed
    for k in np.argsort(cost, kind="stable"):
        (x, y), half = ends[k].tolist(), BALLOON
        box = (x - half, y - half, x + half, y + half)
        leader = [tuple(starts[k]), tuple(ends[k] - BALLOON * ways[w[k]])]
        if room.is_free(box) and not room.crosses_label(leader):
            paper.lines(FINE_LINE, [leader, _ring((x, y), half)])
            paper.fill("#000000", _ring((float(starts[k][0]), float(starts[k][1])), 0.45))
            paper.write((x, y - 0.5 * PLAIN_LETTERS), number, across="center")
            room.take(box)
            room.take_line(leader)
            return []
    return [number]


def _prepared(loop: Floats) -> shapely.Geometry:
    line = shapely.LineString(loop)
    shapely.prepare(line)
    return line


def _spread(loop: Floats, count: int) -> Floats:
    """Places evenly along a loop, off its corners."""
    line = shapely.LineString(loop)
    shares = (np.arange(count) + 0.37) / count
    places: Floats = shapely.get_coordinates(shapely.line_interpolate_point(line, shares, normalized=True))
    return places


def _ring(middle: tuple[float, float], radius: float) -> Floats:
    turn = np.linspace(0.0, 2.0 * np.pi, 49)
    return np.array(middle) + radius * np.column_stack((np.cos(turn), np.sin(turn)))


def _draw_grain(paper: Paper, room: LabelRoom, grain: float, box: PaperBox) -> list[str]:
    """An arrow with two heads along the grain."""
    cos, sin = cos_sin(grain)
    along = np.array((sin, -cos)) if sin >= 0.0 else np.array((-sin, cos))
    half, wide = 9.0, words_width("grain")
    reach = np.abs(along) * half + 1.0
    xs = np.linspace(box[0] - 10.0, box[2] + 12.0, 25)
    ys = np.linspace(box[3] + 10.0, box[1] - 10.0, 25)
    for over_lines in (False, True):
        for y in ys:
            for x in xs:
                arrow_box = (x - reach[0], y - reach[1], x + reach[0], y + reach[1])
                at = (float(x) - 0.5 * wide, float(y) + reach[1] + 0.8)
                whole = (
                    min(arrow_box[0], at[0]), arrow_box[1], max(arrow_box[2], at[0] + wide), at[1] + PLAIN_LETTERS
                )  # fmt: skip
                if not room.is_free(whole, over_lines=over_lines):
                    continue
                ends = np.array((x, y)) - half * along, np.array((x, y)) + half * along
                paper.lines(FINE_LINE, [np.array(ends)])
                arrow(paper, (float(ends[0][0]), float(ends[0][1])), (float(along[0]), float(along[1])), 3.5)
                arrow(
                    paper, (float(ends[1][0]), float(ends[1][1])), (-float(along[0]), -float(along[1])), 3.5
                )
                paper.write(at, "grain")
                room.take(whole)
                return []
    return ["grain"]
