"""An empty page with its border and title block, and the pages on which a long table goes on."""

from collections.abc import Iterator, Sequence

from stackview.drawings.paper import BROAD_LINE, Paper, PaperSize
from stackview.drawings.title_block import (
    LINE,
    TitleRow,
    draw_table,
    draw_title,
    table_lines,
    title_height,
)

PAGE_BORDER = 8.0
"""Border of the page, which printers leave white [mm]."""
ON_NEXT_PAGE = "what the numbers mean is told on the next page"


def framed_page(title: Sequence[TitleRow], size: PaperSize) -> Paper:
    """An empty page with its border and title block."""
    page = Paper(size)
    left, low, right, high = PAGE_BORDER, PAGE_BORDER, size.width - PAGE_BORDER, size.height - PAGE_BORDER
    page.lines(BROAD_LINE, [[(left, low), (right, low), (right, high), (left, high), (left, low)]])
    draw_title(page, title, (left, low), right - left)
    return page


def continued_pages(rows: Sequence[str], title: Sequence[TitleRow], size: PaperSize) -> Iterator[Paper]:
    """Pages that hold a table alone."""
    width, height = size.width - 2.0 * PAGE_BORDER, size.height - 2.0 * PAGE_BORDER
    lines = table_lines(rows, width - 4.0)
    most = max(int((height - title_height(title, width) - 6.0) / LINE), 1)
    for first in range(0, len(lines), most):
        page = framed_page(title, size)
        draw_table(page, lines[first : first + most], (PAGE_BORDER + 2.0, PAGE_BORDER + height - 3.0))
        yield page
