"""One printed page for a rod, tube or bar: side view, cross-section, and a core's side rolled out with its strips."""

from dataclasses import replace
from math import hypot

import numpy as np
import shapely

from stackview.curves.arcs import Path, bounds, polygon
from stackview.drawings.dimension_lines import ROW_STEP, Measure, Rows, draw_measures
from stackview.drawings.label_room import LabelRoom
from stackview.drawings.page_frame import ON_NEXT_PAGE, PAGE_BORDER, continued_pages, framed_page
from stackview.drawings.paper import (
    BROAD_LINE,
    FINE_LINE,
    HIDDEN_EDGE,
    MIDDLE_LINE,
    MIDDLING,
    PAPERS,
    Paper,
    PaperBox,
    words_box,
)
from stackview.drawings.part_section import STANDARD_SCALES, draw_material
from stackview.drawings.rod_words import rod_title, rod_words
from stackview.drawings.title_block import (
    LINE,
    PageNote,
    caption,
    draw_bar,
    draw_table,
    scale_words,
    table_lines,
    title_height,
)
from stackview.errors import StackviewError
from stackview.shop.drawn_cuts import circle_of
from stackview.shop.rod_sheet import RodSheet

_CAPTION, _BAR = 6.5, 6.5
_LEFT, _BELOW = 16.0, 14.0
"""Room for dimensions beside and below a view [mm]."""
_SECTION = 46.0
"""Most that the cross-section takes across [mm]."""
_CHORD_ERROR = 0.01
_LARGEST = 20.0
_SIDES = ((0.0, "front"), (-180.0, "back"), (180.0, "back"), (-90.0, "left"), (90.0, "right"))


def draw_rod_page(sheet: RodSheet, note: PageNote, *, paper: str) -> tuple[list[Paper], float]:
    """Draw a rod's page, and say the scale of its side view: the largest standard one that fits.

    A table too long for the page follows on pages of its own. Raises StackviewError for a rod that is
    too large at the smallest scale.
    """
    size = PAPERS[paper]
    rows = rod_words(sheet, note.units)
    width, height = size.width - 2.0 * PAGE_BORDER, size.height - 2.0 * PAGE_BORDER
    for on_page, later in ((rows, []), ([ON_NEXT_PAGE], rows)):
        lines = table_lines(on_page, width - 4.0)
        room = height - title_height(rod_title(sheet, note), width) - _BAR - LINE * len(lines) - 4.0
        for scale in STANDARD_SCALES:
            if scale > _LARGEST or not _fits(sheet, scale, width, room):
                continue
            scaled = replace(note, scale=scale)
            page = _drawn(sheet, scaled, lines, framed_page(rod_title(sheet, scaled), size), room)
            if page is not None:
                return [page, *continued_pages(later, rod_title(sheet, scaled), size)], scale
    raise StackviewError(
        f"{sheet.rod.title}: it is larger than {paper} paper holds at {scale_words(STANDARD_SCALES[-1])}"
    )


def _fits(sheet: RodSheet, scale: float, width: float, room: float) -> bool:
    """Whether side view, cross-section and rolled-out side have room at one scale."""
    x0, _, x1, _ = bounds(sheet.outer)
    side_width, side_height = _side_size(sheet, scale)
    beside = _cross_room(sheet)[0]
    long = scale * sheet.rod.long
    upper = _BELOW + _CAPTION + max(long + 6.0, _cross_room(sheet)[1])
    lower = side_height + _BELOW + _CAPTION + 8.0 if sheet.side is not None else 0.0
    wide = _LEFT + scale * (x1 - x0) + 30.0 + beside
    return wide <= width and side_width + 2.0 * _LEFT <= width and upper + lower <= room


def _side_size(sheet: RodSheet, scale: float) -> tuple[float, float]:
    if sheet.side is None:
        return 0.0, 0.0
    return scale * sheet.side.round, scale * sheet.rod.long


def _cross_scale(sheet: RodSheet) -> float:
    x0, y0, x1, y1 = bounds(sheet.outer)
    size = max(x1 - x0, y1 - y0)
    return next((scale for scale in STANDARD_SCALES if scale * size <= _SECTION), STANDARD_SCALES[-1])


def _cross_room(sheet: RodSheet) -> tuple[float, float]:
    """Width and height that the cross-section takes with its dimensions [mm]."""
    x0, y0, x1, y1 = bounds(sheet.outer)
    scale = _cross_scale(sheet)
    return 2.0 * _LEFT + max(scale * (x1 - x0), 40.0), scale * (y1 - y0) + 2.0 * ROW_STEP + 15.0


def _drawn(
    sheet: RodSheet, note: PageNote, lines: list[tuple[str, str]], page: Paper, room: float
) -> Paper | None:
    """The page, or None where a dimension finds no room."""
    size = page.size
    left, right, high = PAGE_BORDER, size.width - PAGE_BORDER, size.height - PAGE_BORDER
    y = high - room - 2.0
    draw_table(page, lines, (left + 2.0, y))
    draw_bar(page, note.units, (left + 4.0, y - LINE * len(lines) - 2.0 - 0.5 * _BAR))
    missing: list[str] = []
    floor = y + 2.0
    if sheet.side is not None:
        tall = _side_size(sheet, note.scale)[1] + _BELOW + _CAPTION + 8.0
        missing += _draw_side(page, sheet, note, (left, floor, right, floor + tall))
        floor += tall
    split = right - _cross_room(sheet)[0]
    missing += _draw_elevation(page, sheet, note, (left, floor, split, high))
    missing += _draw_cross(page, sheet, note, (split, floor, right, high))
    return None if missing else page


def _draw_elevation(page: Paper, sheet: RodSheet, note: PageNote, room: PaperBox) -> list[str]:
    """The rod from the front, upright, with its length and its width."""
    scale = note.scale
    x0, _, x1, _ = bounds(sheet.outer)
    wide, long = scale * (x1 - x0), scale * sheet.rod.long
    spare = room[3] - room[1] - _CAPTION - _BELOW - long - 6.0
    middle, foot = 0.5 * (room[0] + room[2]), room[1] + _CAPTION + _BELOW + 0.5 * max(spare, 0.0)
    a, b, top = middle - 0.5 * wide, middle + 0.5 * wide, foot + long
    page.lines(BROAD_LINE, [[(a, foot), (b, foot), (b, top), (a, top), (a, foot)]])
    if sheet.inner is not None:
        i0, _, i1, _ = bounds(sheet.inner)
        shift = middle - 0.5 * scale * (x0 + x1)
        page.lines(HIDDEN_EDGE, [[(shift + scale * x, foot), (shift + scale * x, top)] for x in (i0, i1)])
    page.lines(MIDDLE_LINE, [[(middle, foot - 2.0), (middle, top + 3.0)]])
    free = LabelRoom(room)
    free.take(caption(page, (middle, foot - _BELOW - _CAPTION + 2.0), "from the front"))
    round_ = "⌀ " if circle_of(sheet.outer) is not None else ""
    length = Measure(foot, top, (a, a), note.units.plain(sheet.rod.long))
    left = draw_measures(page, free, Rows(False, a - 7.0, -ROW_STEP), [length])
    across = Measure(a, b, (foot, foot), f"{round_}{note.units.plain(x1 - x0)}")
    return left + draw_measures(page, free, Rows(True, foot - 8.0, -ROW_STEP), [across])


def _draw_cross(page: Paper, sheet: RodSheet, note: PageNote, room: PaperBox) -> list[str]:
    """The cross-section, hatched, the front of the lamp below."""
    scale = _cross_scale(sheet)
    x0, y0, x1, y1 = bounds(sheet.outer)
    tall = _cross_room(sheet)[1]
    middle = 0.5 * (room[0] + room[2])
    foot = room[1] + 0.5 * (room[3] - room[1] - tall - _CAPTION) + _CAPTION + 2.0 * ROW_STEP + 5.0
    at = (middle - 0.5 * scale * (x0 + x1), foot - scale * y0)
    material = shapely.Polygon(
        polygon(sheet.outer, _CHORD_ERROR),
        [] if sheet.inner is None else [polygon(sheet.inner, _CHORD_ERROR)],
    )
    draw_material(page, material, at, scale, BROAD_LINE)
    middles = [
        [(at[0] + scale * x0 - 3.0, at[1]), (at[0] + scale * x1 + 3.0, at[1])],
        [(at[0], at[1] + scale * y0 - 2.0), (at[0], at[1] + scale * y1 + 3.0)],
    ]
    page.lines(MIDDLE_LINE, middles)
    free = LabelRoom(room)
    for line in middles:
        free.take_line(line)
    for k, words in enumerate((f"cross-section, {scale_words(scale)}", "front below")):
        free.take(caption(page, (middle, foot - 2.0 * ROW_STEP - _CAPTION + 2.0 - 5.0 * k), words))
    left: list[str] = []
    level, upright = [], []
    for path in (sheet.outer, *((sheet.inner,) if sheet.inner is not None else ())):
        level.append(_across(path, note, scale, at, 0))
        if circle_of(path) is None:
            upright.append(_across(path, note, scale, at, 1))
    left += draw_measures(page, free, Rows(True, foot - 6.0, -ROW_STEP), level)
    left += draw_measures(page, free, Rows(False, at[0] + scale * x1 + 7.0, ROW_STEP), upright)
    return left


def _across(path: Path, note: PageNote, scale: float, at: tuple[float, float], axis: int) -> Measure:
    box = bounds(path)
    low, high = (at[axis] + scale * box[k] for k in (axis, axis + 2))
    foot = at[1] + scale * box[1] if axis == 0 else at[0] + scale * box[2]
    feet = (at[1] if circle_of(path) else foot,) * 2 if axis == 0 else (foot, foot)
    mark = "⌀ " if circle_of(path) is not None else ""
    return Measure(low, high, feet, f"{mark}{note.units.plain(box[axis + 2] - box[axis])}")


def _draw_side(page: Paper, sheet: RodSheet, note: PageNote, room: PaperBox) -> list[str]:
    """The side rolled out, seen from outside, the front in the middle: strips, folds and bearings."""
    side, scale = sheet.side, note.scale
    assert side is not None
    wide, long = _side_size(sheet, scale)
    middle, foot = 0.5 * (room[0] + room[2]), room[1] + _CAPTION + _BELOW
    a, b, top = middle - 0.5 * wide, middle + 0.5 * wide, foot + long
    page.lines(MIDDLING, [[(a, foot), (b, foot), (b, top), (a, top), (a, foot)]])
    page.lines(FINE_LINE, [[(middle + scale * u, foot), (middle + scale * u, top)] for u in side.corners])
    for strip in sheet.strips:
        page.lines(BROAD_LINE, [edge * scale + np.array((middle, foot)) for edge in strip.edges])
    free = LabelRoom(room)
    named = "its side rolled out, seen from outside, lower end below: where the strip lies"
    free.take(caption(page, (middle, room[1] + 2.0), named))
    for bearing, word in _SIDES:
        u = _u_at(sheet, bearing)
        if word != "back":
            page.lines(MIDDLE_LINE, [[(middle + scale * u, foot - 1.0), (middle + scale * u, top + 1.5)]])
        at = (middle + scale * u, top + 2.4)
        # a thin core has room for few of these words; the front comes first
        if free.is_free(words_box(at, word, across="center")):
            free.take(page.write(at, word, across="center"))
    left: list[str] = []
    heights = {
        round(place, 6)
        for strip in sheet.strips
        for place in (strip.begins[0], strip.ends[1])
        if place > 1e-6
    }
    measures = [Measure(foot, foot + scale * z, (a, a), note.units.plain(z)) for z in sorted(heights)]
    left += draw_measures(page, free, Rows(False, a - 7.0, -ROW_STEP), measures)
    around = Measure(a, b, (foot, foot), f"{note.units.plain(side.round)} once round")
    return left + draw_measures(page, free, Rows(True, foot - 7.0, -ROW_STEP), [around])


def _u_at(sheet: RodSheet, bearing: float) -> float:
    """Where a bearing lies on the rolled-out side [mm]; the back at the end that is asked for."""
    side = sheet.side
    assert side is not None
    if abs(bearing) == 180.0:
        return 0.5 * side.round * float(np.sign(bearing))
    angle = np.radians(bearing)
    corners = polygon(side.edge, _CHORD_ERROR)
    far = max(hypot(x, y) for x, y in corners.tolist()) + 1.0
    ray = shapely.LineString([(0.0, 0.0), (far * np.sin(angle), -far * np.cos(angle))])
    met = shapely.get_coordinates(shapely.intersection(ray, shapely.LinearRing(corners)))
    if not len(met):
        return bearing / 360.0 * side.round
    return float(side.u_of(met[np.argmax(np.hypot(*met.T))][None])[0])
