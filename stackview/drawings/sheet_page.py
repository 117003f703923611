"""One printed page for a filled sheet: where every part lies on it, in a picture to scale and in a table."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.curves.arcs import bounds, polygon
from stackview.description.units import Units
from stackview.drawings.dimension_lines import ROW_STEP, Measure, Rows, draw_measures
from stackview.drawings.label_room import LabelRoom
from stackview.drawings.paper import (
    BROAD_LINE,
    FINE_LINE,
    HIDDEN_EDGE,
    MIDDLING,
    PAPERS,
    PLAIN_LETTERS,
    SMALL_LETTERS,
    Paper,
    PaperSize,
    Pen,
    broken_words,
)
from stackview.drawings.part_section import STANDARD_SCALES
from stackview.drawings.title_block import LINE, TitleRow, draw_bar, draw_title, scale_words, title_height
from stackview.errors import StackviewError
from stackview.in_figures import percent
from stackview.sheets.drawn import cuts_of_sheet, letters_tall, name_places, sheet_lines
from stackview.sheets.layout import FilledSheet, SheetPlan
from stackview.shop.drawn_cuts import DrawnCut
from stackview.shop.sheet_lines import MARGIN_LAYER, SHEET_LAYER, ZONE_LAYER

_MARGIN = 8.0
_BELOW, _LEFT, _TOP, _RIGHT, _BAR = 18.0, 16.0, 4.0, 3.0, 7.0
_HATCH_STEP = 1.6
_ZONE = Pen(0.25, "#b35900")
_EDGE_OF_MARGIN = Pen(0.18, "#777777", (3.0, 1.5))
_GRAIN = Pen(0.18, "#777777")
_NAME_COLOUR = "#444444"
_LETTERS = 2.2
"""Height of the table's letters [mm]."""
_TWO_ROWS = 2.0 * ROW_STEP + 6.0
"""Room beside the sheet that two rows of dimensions take [mm]."""
_COLUMN = 88.0
"""Width of a column of the table [mm]."""


@dataclass(frozen=True, slots=True)
class SheetNote:
    """What a page says besides the sheet: lamp, number of lamps, gap, cutter, page of pages, its own files, units."""

    plan: SheetPlan
    page: int
    pages: int
    stem: str
    units: Units


def draw_sheet_page(filled: FilledSheet, note: SheetNote, *, paper: str) -> list[Paper]:
    """Draw a sheet at the largest standard scale that fits, with a table of its parts; long tables go on.

    Raises StackviewError for a sheet that is too large at the smallest scale.
    """
    upright = PAPERS[paper]
    size = PaperSize(upright.name, upright.height, upright.width)
    width, height = size.width - 2.0 * _MARGIN, size.height - 2.0 * _MARGIN
    lines = [line for row in table_of_parts(filled, note.units) for line in _in_column(row)]
    columns = max(int(width // _COLUMN), 1)
    for scale in [scale for scale in STANDARD_SCALES if scale <= 1.0]:
        block = title_height(_rows(filled, note, scale), width)
        wide, high = (scale * side for side in filled.sheet.size)
        room = height - block - _BAR - LINE - (high + _BELOW + _TOP)
        if wide + _LEFT + _RIGHT > width or room < 2.0 * LINE:
            continue
        most = int((room - 2.0) // LINE)
        on_page = lines if -(-len(lines) // columns) <= most else [_ON_NEXT]
        page = _drawn(filled, note, size, scale, on_page)
        later = [] if on_page is lines else _continued(filled, note, size, scale, lines)
        return [page, *later]
    raise StackviewError(
        f"{filled.words}: {note.units.span(*filled.sheet.size)} is larger than {paper} paper holds at "
        f"{scale_words(STANDARD_SCALES[-1])}"
    )


_HEADING = (
    "Number: left edge | lower edge of the rectangle about it, from the sheet's lower left corner; turned counter-clockwise "
    "from its own drawing. The top lies up unless it is said otherwise."
)
_ON_NEXT = "where each part lies is told on the next page"


def table_of_parts(filled: FilledSheet, units: Units) -> list[str]:
    """What the numbers mean, then a line for every part: its number, and where the rectangle about it begins."""
    parts = {one.part.number: one.part for one in filled.parts}
    counts = Counter(one.part.number for one in filled.parts)
    rows = [f"{number} is {parts[number].title}: {counts[number]} on this sheet" for number in sorted(parts)]
    for one in filled.parts:
        x0, y0, _, _ = bounds(one.outline)
        how = [f"turned {one.turn:.6g}°"] if one.turn % 360.0 else []
        how += ["underside up"] if one.part.underside_up else []
        how += [f"in the waste of {filled.parts[one.inside].part.number}"] if one.inside is not None else []
        told = "; ".join([f"{units.plain(x0)} | {units.plain(y0)}", *how])
        rows.append(f"{one.part.number}: {told}")
    rows.append(f"parts reach to {units.plain(filled.reach[0])} | {units.plain(filled.reach[1])}")
    rows += [
        f"zone {number}{f' ({zone.name})' if zone.name else ''}: "
        f"{units.plain(bounds(zone.path)[0])} | {units.plain(bounds(zone.path)[1])}, "
        f"{units.span(bounds(zone.path)[2] - bounds(zone.path)[0], bounds(zone.path)[3] - bounds(zone.path)[1])}"
        for number, zone in enumerate(filled.sheet.zones, 1)
    ]
    return rows


def _in_column(row: str) -> list[str]:
    """A row of the table, over as many lines as its column needs."""
    first, *more = broken_words(row, _COLUMN - 8.0, _LETTERS)
    return [first, *more]


def _rows(filled: FilledSheet, note: SheetNote, scale: float) -> list[TitleRow]:
    sheet, units, plan = filled.sheet, note.units, note.plan
    stock = sheet.material
    told = [stock.name, *([stock.sort] if stock.sort and stock.sort != stock.name else [])]
    lamps = f"{plan.lamp}, {plan.lamps} lamp{'' if plan.lamps == 1 else 's'}"
    return [
        [
            ("sheet", filled.words, 0.34),
            ("lamp", lamps, 0.28),
            ("material", ", ".join(told), 0.26),
            ("sheet of sheets", f"{note.page} of {note.pages}", 0.12),
        ],
        [
            ("size", units.span(*sheet.size), 0.2),
            ("thickness", units.show(sheet.thickness), 0.14),
            ("grain", _grain_words(filled), 0.2),
            ("margin", units.show(sheet.margin), 0.14),
            ("cutter", units.show(plan.cutter), 0.14),
            ("between parts", units.show(plan.gap), 0.18),
        ],
        [
            ("becomes parts", f"{percent(filled.share)} of the sheet", 0.2),
            ("scale (ISO 5455)", scale_words(scale), 0.14),
            ("lengths in", "inches" if units.in_inches else units.unit, 0.12),
            ("order", _order_words(filled), 0.34),
            ("files beside this one", f"{note.stem}.dxf, .svg", 0.2),
        ],
    ]


def _grain_words(filled: FilledSheet) -> str:
    sheet = filled.sheet
    if not sheet.material.is_figured:
        return "none"
    way = sheet.grain % 180.0
    return {0.0: "front to back", 90.0: "left to right"}.get(way, f"along bearing {way:.6g}°")


def _order_words(filled: FilledSheet) -> str:
    if any(one.inside is not None for one in filled.parts):
        return "parts in an opening's waste first, then the openings, outlines last"
    return "openings first, outlines last"


def _framed_sheet(filled: FilledSheet, note: SheetNote, size: PaperSize, scale: float) -> tuple[Paper, float]:
    """An empty page with its border and block, and the height at which the block ends [mm]."""
    page = Paper(size)
    left, low, right, high = _MARGIN, _MARGIN, size.width - _MARGIN, size.height - _MARGIN
    page.lines(BROAD_LINE, [[(left, low), (right, low), (right, high), (left, high), (left, low)]])
    rows = _rows(filled, note, scale)
    draw_title(page, rows, (left, low), right - left)
    return page, low + title_height(rows, right - left)


def _drawn(
    filled: FilledSheet, note: SheetNote, size: PaperSize, scale: float, lines: Sequence[str]
) -> Paper:
    page, y = _framed_sheet(filled, note, size, scale)
    draw_bar(page, note.units, (_MARGIN + 4.0, y + 0.5 * _BAR))
    y += _BAR
    columns = max(int((size.width - 2.0 * _MARGIN) // _COLUMN), 1)
    rows = -(-len(lines) // columns)
    _draw_columns(page, lines, (_MARGIN + 2.0, y + rows * LINE), rows)
    y += rows * LINE + 2.0
    page.write((_MARGIN + 2.0, y), _HEADING, tall=SMALL_LETTERS)
    y += LINE
    wide, high = (scale * side for side in filled.sheet.size)
    spare = size.height - _MARGIN - y - (_BELOW + high + _TOP)
    middle = 0.5 * (size.width + _LEFT - _RIGHT)
    at = (middle - 0.5 * wide, y + _BELOW + 0.5 * max(spare, 0.0))
    _draw_sheet(page, filled, note.units, scale, at, y)
    return page


def _draw_columns(page: Paper, lines: Sequence[str], corner: tuple[float, float], rows: int) -> None:
    for k, words in enumerate(lines):
        column, row = divmod(k, rows)
        page.write((corner[0] + column * _COLUMN, corner[1] - (row + 1) * LINE + 1.0), words, tall=_LETTERS)


def _continued(
    filled: FilledSheet, note: SheetNote, size: PaperSize, scale: float, lines: Sequence[str]
) -> Iterator[Paper]:
    columns = max(int((size.width - 2.0 * _MARGIN) // _COLUMN), 1)
    done = 0
    while done < len(lines):
        page, y = _framed_sheet(filled, note, size, scale)
        rows = max(int((size.height - _MARGIN - y - 6.0) // LINE), 1)
        _draw_columns(
            page, lines[done : done + rows * columns], (_MARGIN + 2.0, size.height - _MARGIN - 3.0), rows
        )
        page.write((_MARGIN + 2.0, y + 2.0), _HEADING, tall=SMALL_LETTERS)
        done += rows * columns
        yield page


def _pen_of(cut: DrawnCut) -> Pen:
    return FINE_LINE if cut.face is not None else MIDDLING


def _draw_sheet(
    page: Paper, filled: FilledSheet, units: Units, scale: float, at: tuple[float, float], low: float
) -> None:
    own = sheet_lines(filled)
    pens = {SHEET_LAYER: BROAD_LINE, MARGIN_LAYER: _EDGE_OF_MARGIN, ZONE_LAYER: _ZONE}
    for name, paths in own.curves.items():
        for path in paths:
            page.curve(pens[name], path, scale, at)
    for zone in own.curves.get(ZONE_LAYER, ()):
        page.lines(_ZONE, _hatched(polygon(zone, 0.1) * scale + np.array(at)))
    for cut in cuts_of_sheet(filled):
        for path in cut.paths:
            page.curve(_pen_of(cut) if cut.face != "underside" else HIDDEN_EDGE, path, scale, at)
    page.lines(BROAD_LINE, [line * scale + np.array(at) for one in filled.parts for line in one.marks])
    page.lines(_GRAIN, [line * scale + np.array(at) for line in own.grain])
    _write_names(page, filled, scale, at)
    _measure(page, filled, units, scale, at, low)


def _hatched(corners: Floats) -> list[Floats]:
    """Slanting lines across a shape on the paper, so that nobody takes it for a part."""
    shape = shapely.Polygon(corners)
    left, low, right, high = shape.bounds
    starts = np.arange(left - (high - low), right, _HATCH_STEP)
    every = shapely.linestrings([[(x, low), (x + high - low, high)] for x in starts.tolist()])
    cut = shapely.get_parts(shapely.intersection(every, shape))
    return [
        shapely.get_coordinates(line) for line in cut if line.geom_type == "LineString" and not line.is_empty
    ]


def _write_names(page: Paper, filled: FilledSheet, scale: float, at: tuple[float, float]) -> None:
    """Number and name in every part; only the number where no more is legible, as the table has the rest."""
    for place in name_places(filled):
        words, radius = place.words, place.radius * scale
        tall = min(letters_tall(words, radius), PLAIN_LETTERS)
        if tall < SMALL_LETTERS:
            words = words[:1]
            tall = SMALL_LETTERS
        x, y = place.x * scale + at[0], place.y * scale + at[1]
        for k, line in enumerate(words):
            foot = y + (0.5 * (len(words) - 1) - k) * 1.6 * tall - 0.5 * tall
            page.write((x, foot), line, tall=tall, across="center", bold=k == 0, colour=_NAME_COLOUR)


def _measure(
    page: Paper, filled: FilledSheet, units: Units, scale: float, at: tuple[float, float], low: float
) -> None:
    """The sheet's own size, and how far its parts reach, so that what is left is known before the first cut."""
    sizes, reach = filled.sheet.size, filled.reach
    room = LabelRoom((_MARGIN + 1.0, low, page.size.width - _MARGIN - 1.0, page.size.height - _MARGIN - 1.0))
    for level, axis in ((True, 0), (False, 1)):
        begin = at[axis]
        feet = (at[1 - axis], at[1 - axis])
        measures = [Measure(begin, begin + scale * sizes[axis], feet, units.plain(sizes[axis]))]
        beside = (at[1 - axis] if level else at[0] - _MARGIN) >= _TWO_ROWS
        if sizes[axis] - reach[axis] > filled.sheet.margin + 1.0 and beside:
            measures.append(
                Measure(begin, begin + scale * reach[axis], feet, f"parts to {units.plain(reach[axis])}")
            )
        draw_measures(page, room, Rows(level, at[1 - axis] - ROW_STEP, -ROW_STEP), measures)
