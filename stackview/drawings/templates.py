"""True-size paper templates: a part's curves over as many sheets as it takes, to be glued together.

Each sheet shows its own piece of the part and a strip of the next ones'. Crosses stand at the same
places of the part on both, so that sheets are laid over each other by them.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from stackview.curves.arcs import bounds
from stackview.description.lamp import Bore
from stackview.description.units import Units
from stackview.drawings.label_room import LabelRoom
from stackview.drawings.paper import (
    BROAD_LINE,
    FINE_LINE,
    HIDDEN_EDGE,
    MIDDLING,
    PAPERS,
    PLAIN_LETTERS,
    Paper,
    PaperBox,
    PaperSize,
    Pen,
    broken_words,
    words_box,
)
from stackview.drawings.title_block import draw_bar
from stackview.shop.drawn_cuts import DrawnCut
from stackview.shop.part_sheet import PartSheet

_MARGIN = 10.0
_FOOT = 16.0
"""Strip for words at a sheet's foot [mm]."""
_OVERLAP = 15.0
"""How much of the next sheet is shown [mm]."""
_CROSS = 4.0
MOST_SHEETS = 100
"""Sheets of one part; more are no template that anybody glues."""


@dataclass(frozen=True, slots=True)
class SheetGrid:
    """How a part is spread over sheets: steps across and up, how many, and where the first begins [mm]."""

    columns: int
    rows: int
    step: tuple[float, float]
    first: tuple[float, float]

    @property
    def count(self) -> int:
        """How many sheets it takes."""
        return self.columns * self.rows


def sheet_grid(sheet: PartSheet, size: PaperSize) -> SheetGrid:
    """Spread a part's outline over sheets that overlap, in its middle."""
    x0, y0, x1, y1 = bounds(sheet.cuts[0].paths[0])
    room = (size.width - 2.0 * _MARGIN, size.height - 2.0 * _MARGIN - _FOOT)
    steps, counts, firsts = [], [], []
    for low, high, most in ((x0, x1, room[0]), (y0, y1, room[1])):
        # 2 mm of clear paper at both sides
        needed = high - low + 4.0
        count = max(math.ceil((needed - _OVERLAP) / (most - _OVERLAP) - 1e-9), 1)
        whole = count * (most - _OVERLAP) + _OVERLAP
        counts.append(count)
        steps.append(most - _OVERLAP)
        firsts.append(0.5 * (low + high - whole))
    return SheetGrid(counts[0], counts[1], (steps[0], steps[1]), (firsts[0], firsts[1]))


def sheet_count(sheet: PartSheet, paper: str) -> int:
    """How many sheets a part's template takes."""
    return sheet_grid(sheet, PAPERS[paper]).count


def draw_templates(sheet: PartSheet, lamp: str, units: Units, *, paper: str) -> Iterator[Paper]:
    """Draw a part at its true size, sheet by sheet, from the left and then from the front to the back."""
    size = PAPERS[paper]
    grid = sheet_grid(sheet, size)
    for number in range(grid.count):
        row, column = divmod(number, grid.columns)
        yield _sheet(sheet, grid, size, (column, row), (lamp, units))


def _sheet(
    sheet: PartSheet, grid: SheetGrid, size: PaperSize, at: tuple[int, int], told: tuple[str, Units]
) -> Paper:
    page = Paper(size)
    lamp, units = told
    window: PaperBox = (_MARGIN, _MARGIN + _FOOT, size.width - _MARGIN, size.height - _MARGIN)
    page.window = window
    low = [grid.first[k] + at[k] * grid.step[k] for k in (0, 1)]
    origin = (window[0] - low[0], window[1] - low[1])
    for cut in sheet.cuts:
        for path in cut.paths:
            page.curve(_pen(cut), path, 1.0, origin, clipped=True)
    for mark in sheet.marks:
        page.lines(BROAD_LINE, [mark.line + np.array(origin)], clipped=True)
    page.lines(FINE_LINE, [[(origin[0] - 8.0, origin[1]), (origin[0] + 8.0, origin[1])]], clipped=True)
    page.lines(FINE_LINE, [[(origin[0], origin[1] - 8.0), (origin[0], origin[1] + 8.0)]], clipped=True)
    _draw_crosses(page, grid, at, window)
    words = f"{sheet.title} ({lamp}), true size: column {at[0] + 1} of {grid.columns}, row {at[1] + 1} of {grid.rows}"
    room = window[2] - window[0]
    for k, line in enumerate(broken_words(words, room)[:2]):
        page.write((window[0], window[1] - 5.0 - 4.0 * k), line)
    draw_bar(page, units, (window[0], _MARGIN + 2.0))
    return page


def _pen(cut: DrawnCut) -> Pen:
    hidden = cut.face == "underside" or isinstance(cut.of, Bore)
    return HIDDEN_EDGE if hidden else MIDDLING


def cross_places(
    grid: SheetGrid, at: tuple[int, int], window: PaperBox
) -> list[tuple[str, tuple[float, float]]]:
    """Names and places on the paper of a sheet's crosses: in the middle of each strip that it shares.

    A cross has the same name on both sheets.
    """
    column, row = at
    found = []
    half = 0.5 * _OVERLAP
    for k in (column - 1, column):
        if 0 <= k < grid.columns - 1:
            x = window[0] + half if k < column else window[2] - half
            for n, share in enumerate((0.2, 0.8)):
                y = window[1] + share * (window[3] - window[1])
                found.append((f"{k + 1}{row + 1}{'ab'[n]}", (x, y)))
    for k in (row - 1, row):
        if 0 <= k < grid.rows - 1:
            y = window[1] + half if k < row else window[3] - half
            for n, share in enumerate((0.2, 0.8)):
                x = window[0] + share * (window[2] - window[0])
                found.append((f"{column + 1}{k + 1}{'cd'[n]}", (x, y)))
    return found


def _draw_crosses(page: Paper, grid: SheetGrid, at: tuple[int, int], window: PaperBox) -> None:
    """Crosses to lay sheets over each other by, with their names, and dashed lines to cut them at."""
    room = LabelRoom(window)
    for name, (x, y) in cross_places(grid, at, window):
        page.lines(FINE_LINE, [[(x - _CROSS, y), (x + _CROSS, y)], [(x, y - _CROSS), (x, y + _CROSS)]])
        turn = np.linspace(0.0, 2.0 * np.pi, 33)
        page.lines(FINE_LINE, [np.column_stack((x + 2.0 * np.cos(turn), y + 2.0 * np.sin(turn)))])
        for dx, dy in ((1.0, 2.4), (-6.0, 2.4), (1.0, -4.6), (-6.0, -4.6)):
            box = words_box((x + dx, y + dy), name)
            if room.is_free(box):
                room.take(page.write((x + dx, y + dy), name, tall=PLAIN_LETTERS))
                break
    page.lines(
        FINE_LINE,
        [
            [window[:2], (window[2], window[1]), window[2:], (window[0], window[3]), window[:2]],
        ],
    )
