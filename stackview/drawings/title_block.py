"""The title block at a page's foot, and the table of cuts above it."""

from collections.abc import Sequence
from dataclasses import dataclass

from stackview.description.material import Material
from stackview.description.units import Units
from stackview.drawings.paper import (
    BROAD_LINE,
    FINE_LINE,
    LARGE_LETTERS,
    MIDDLING,
    PLAIN_LETTERS,
    SMALL_LETTERS,
    Paper,
    PaperBox,
    broken_words,
    words_width,
)
from stackview.shop.part_sheet import PartSheet

_QUIET = "#555555"
TitleRow = Sequence[tuple[str, str, float]]
"""Cells of one row of a title block: word, value and share of the width."""
LINE = 4.1
"""From one line of words to the next [mm]."""
_NUMBER = 6.0
_PAD, _CELL = 1.2, 8.2
_BAR = 50.0


@dataclass(frozen=True, slots=True)
class PageNote:
    """What a title block says besides the part: lamp, scale, page of pages, and the part's own files."""

    lamp: str
    scale: float
    page: int
    pages: int
    stem: str
    units: Units
    below: str = ""
    """Name of the files of what is cut with the underside up."""


def scale_words(scale: float) -> str:
    """A scale as ISO 5455 writes it.

    >>> scale_words(1.0), scale_words(0.5), scale_words(5.0)
    ('1:1', '1:2', '5:1')
    """
    return f"{scale:.0f}:1" if scale >= 1.0 else f"1:{1.0 / scale:.0f}"


def title_rows(sheet: PartSheet, note: PageNote) -> list[TitleRow]:
    """The rows of a layer's block."""
    layer, units = sheet.layer, note.units
    over = f"; turned over in the stack: {', '.join(sheet.turned_over)}" if sheet.turned_over else ""
    return [
        part_row(sheet.title, note),
        [
            ("pieces for one lamp", f"{sheet.count}{over}", 0.5),
            ("material", sheet_words(layer.material, units), 0.5),
        ],
        [
            ("thickness", units.show(layer.thick), 0.18),
            ("grain", _grain(sheet), 0.32),
            ("cut from", _faces(sheet), 0.32),
            scale_cell(note),
        ],
        [
            ("finish", _finish(sheet), 0.5),
            unit_cell(units),
            ("files beside this one", _files(sheet, note), 0.32),
        ],
    ]


def part_row(title: str, note: PageNote) -> TitleRow:
    """The uppermost row: what is drawn, of which lamp, on which page."""
    return [("part", title, 0.5), ("lamp", note.lamp, 0.32), ("page", f"{note.page} of {note.pages}", 0.18)]


def scale_cell(note: PageNote) -> tuple[str, str, float]:
    """The cell that tells the scale."""
    true_size = " (true size)" if note.scale == 1.0 else ""
    return ("scale (ISO 5455)", f"{scale_words(note.scale)}{true_size}", 0.18)


def unit_cell(units: Units) -> tuple[str, str, float]:
    """The cell that tells the unit of all lengths."""
    return ("lengths in", "inches" if units.in_inches else units.unit, 0.18)


def sheet_words(material: Material, units: Units) -> str:
    """A material by its name, its sort, and how thick it is sold and measured."""
    told = [material.name]
    if material.sort and material.sort != material.name:
        told.append(material.sort)
    bought = [
        f"{word} {units.show(value)}"
        for word, value in (("sold as", material.sold), ("measured", material.measured))
        if value is not None
    ]
    return ", ".join([*told, *bought])


def _files(sheet: PartSheet, note: PageNote) -> str:
    below = f"; for the underside, mirrored: {note.below}.dxf, .svg" if sheet.is_cut_from_below else ""
    return f"{note.stem}.dxf, .svg{below}"


def _grain(sheet: PartSheet) -> str:
    if not sheet.layer.material.is_figured:
        return "none"
    way = sheet.layer.grain % 180.0
    return {0.0: "front to back", 90.0: "left to right"}.get(way, f"along bearing {way:.6g}°")


def _faces(sheet: PartSheet) -> str:
    faces = {cut.face for cut in sheet.cuts if cut.face is not None}
    if faces == {"top", "underside"}:
        return "top and underside: turn it over once"
    return f"{faces.pop()} only" if faces else "either face"


def _finish(sheet: PartSheet) -> str:
    layer = sheet.layer
    if not layer.material.is_acrylic:
        return "the file says nothing of it"
    if layer.material.body == "opal":
        return "opal through and through"
    top, under, edge = layer.finish.faces
    return top if top == under == edge else f"top {top}, underside {under}, edge {edge}"


def title_height(rows: Sequence[TitleRow], width: float) -> float:
    """Height of the block [mm]."""
    return sum(_row_height(row, width) for row in rows)


def _row_height(row: TitleRow, width: float) -> float:
    most = max(len(broken_words(value, share * width - 2.0 * _PAD)) for _, value, share in row)
    return _CELL + (most - 1) * LINE


def draw_title(paper: Paper, rows: Sequence[TitleRow], corner: tuple[float, float], width: float) -> None:
    """Draw the block's rows with its lower left corner at ``corner``."""
    x0, y = corner
    for row in reversed(rows):
        tall = _row_height(row, width)
        x = x0
        for word, value, share in row:
            wide = share * width
            if x > x0:
                paper.lines(FINE_LINE, [[(x, y), (x, y + tall)]])
            paper.write((x + _PAD, y + tall - 2.7), word, tall=SMALL_LETTERS, colour=_QUIET)
            bold = row is rows[0] and x == x0
            for k, line in enumerate(broken_words(value, wide - 2.0 * _PAD)):
                paper.write(
                    (x + _PAD, y + tall - 6.5 - k * LINE),
                    line,
                    tall=PLAIN_LETTERS,
                    bold=bold and _fits(line, wide),
                )
            x += wide
        paper.lines(
            FINE_LINE if row is not rows[0] else BROAD_LINE, [[(x0, y + tall), (x0 + width, y + tall)]]
        )
        y += tall


def _fits(line: str, wide: float) -> bool:
    return words_width(line, PLAIN_LETTERS, True) <= wide - 2.0 * _PAD


def table_lines(rows: Sequence[str], width: float) -> list[tuple[str, str]]:
    """Number (or nothing) and words of each line of the table of cuts."""
    lines: list[tuple[str, str]] = []
    for number, words in enumerate(rows, 1):
        for k, line in enumerate(broken_words(words, width - _NUMBER)):
            lines.append(("" if k else str(number), line))
    return lines


def draw_table(paper: Paper, lines: Sequence[tuple[str, str]], corner: tuple[float, float]) -> None:
    """Draw the table with its upper left corner at ``corner``."""
    x, y = corner
    for k, (number, words) in enumerate(lines):
        foot = y - (k + 1) * LINE + 1.0
        if number:
            tall = PLAIN_LETTERS if len(number) < 3 else SMALL_LETTERS
            paper.write((x + _NUMBER - 1.5, foot), number, tall=tall, bold=True, across="right")
        paper.write((x + _NUMBER, foot), words)


def draw_bar(paper: Paper, units: Units, corner: tuple[float, float]) -> PaperBox:
    """A bar of a round length on the paper, to check the print by; returns its box."""
    x, y = corner
    long = units.round_length(_BAR + 1.0)
    paper.lines(
        MIDDLING,
        [[(x, y), (x + long, y)], [(x, y - 1.5), (x, y + 1.5)], [(x + long, y - 1.5), (x + long, y + 1.5)]],
    )
    words = f"{units.plain(long)} on the paper: measure it before you trust the print"
    written = paper.write((x + long + 2.5, y - 0.5 * SMALL_LETTERS), words, tall=SMALL_LETTERS, colour=_QUIET)
    return x, y - 1.5, written[2], y + 1.5


def caption(paper: Paper, at: tuple[float, float], words: str) -> PaperBox:
    """The name of a view, in the middle under it."""
    return paper.write(at, words, tall=LARGE_LETTERS * 0.85, across="center", bold=True)
