"""A page for what is cut with the underside up: the part seen from below, as it then lies."""

from dataclasses import replace

from stackview.curves.arcs import bounds
from stackview.drawings.page_frame import PAGE_BORDER, framed_page
from stackview.drawings.paper import PAPERS, Paper
from stackview.drawings.part_plan import PlanView, draw_plan, room_beside
from stackview.drawings.title_block import (
    LINE,
    PageNote,
    caption,
    draw_bar,
    draw_table,
    title_height,
    title_rows,
)
from stackview.shop.part_sheet import PartSheet

_ABOVE, _CAPTION, _BAR, _RIGHT = 11.0, 6.5, 6.5, 4.0


def draw_underside_page(sheet: PartSheet, note: PageNote, *, paper: str) -> Paper:
    """Draw a part's plan from below at the scale of ``note``, or the next smaller one at which all labels find room.

    Numbers are those of the part's own page. What finds no room at any scale is left to that page.
    """
    best: tuple[int, Paper] | None = None
    for smaller in (1.0, 0.5, 0.2, 0.1):
        page, missing = _drawn(sheet, replace(note, scale=note.scale * smaller), paper)
        if best is None or missing < best[0]:
            best = missing, page
        if missing == 0:
            break
    assert best is not None
    return best[1]


def _drawn(sheet: PartSheet, note: PageNote, paper: str) -> tuple[Paper, int]:
    """The page, and how many labels found no room on it; all of them where the plan itself has none."""
    size = PAPERS[paper]
    rows, below = title_rows(sheet, note), sheet.from_below
    page = framed_page(rows, size)
    width, height = size.width - 2.0 * PAGE_BORDER, size.height - 2.0 * PAGE_BORDER
    foot = PAGE_BORDER + title_height(rows, width)
    draw_bar(page, note.units, (PAGE_BORDER + 4.0, foot + 0.5 * _BAR))
    foot += _BAR
    told = "dashed: cut from the top, or inside; numbers as on the page that shows it from above"
    draw_table(page, [("", told)], (PAGE_BORDER + 2.0, foot + LINE))
    foot += LINE + 2.0
    x0, y0, x1, y1 = bounds(below.cuts[0].paths[0])
    left, under = room_beside(below, note.units)
    wide, tall = note.scale * (x1 - x0), note.scale * (y1 - y0)
    spare = PAGE_BORDER + height - foot - _ABOVE - tall - under - _CAPTION
    if spare < 0.0 or left + wide + _RIGHT > width:
        return page, len(below.cuts) + 1000
    right = PAGE_BORDER + width
    middle = max(0.5 * size.width, PAGE_BORDER + left + 0.5 * wide)
    middle = min(middle, right - _RIGHT - 0.5 * wide)
    foot += 0.5 * spare
    view = PlanView(
        (middle - note.scale * 0.5 * (x0 + x1), foot + _CAPTION + under - note.scale * y0), note.scale, "top"
    )
    named = caption(page, (middle, foot + 2.0), "seen from below, front below: it lies with its underside up")
    region = (PAGE_BORDER + 1.0, named[3] + 0.5, right - 1.0, PAGE_BORDER + height - 1.0)
    return page, len(draw_plan(page, below, view, note.units, region))
