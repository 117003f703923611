"""Paper templates: true size, sheets that overlap, crosses at the same places of the part."""

import numpy as np
import pytest

from stackview.curves.arcs import bounds
from stackview.description.lamp import Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Rectangle
from stackview.description.units import Units
from stackview.drawings.paper import PAPERS
from stackview.drawings.templates import cross_places, draw_templates, sheet_count, sheet_grid
from tests.drawings.sheets import check_page, full_sheet, sheet_of
from tests.shop.parts import WOOD


def big():
    return sheet_of(Layer("leaf", WOOD, 9.0, Outline(Rectangle(400.0, 520.0, 30.0), at=(7.0, -3.0))), 0.0)


def test_a_small_part_takes_one_sheet_and_stands_whole_on_it() -> None:
    (page,) = draw_templates(full_sheet(), "Lamp", Units("mm"), paper="a4")
    assert sheet_count(full_sheet(), "a4") == 1
    outline = page.strokes[0][2]
    assert np.ptp(outline, axis=0) == pytest.approx((150.0, 90.0))
    left, low, right, high = page.window
    assert outline[:, 0].min() >= left
    assert outline[:, 0].max() <= right
    assert outline[:, 1].min() >= low
    assert outline[:, 1].max() <= high
    check_page_words(page)


def check_page_words(page) -> None:
    check_page(page)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_sheets_cover_the_part_and_crosses_agree(paper: str) -> None:
    sheet, size = big(), PAPERS[paper]
    grid = sheet_grid(sheet, size)
    pages = list(draw_templates(sheet, "Lamp", Units("mm"), paper=paper))
    assert len(pages) == grid.count == sheet_count(sheet, paper) > 4
    x0, y0, x1, y1 = bounds(sheet.cuts[0].paths[0])
    window = pages[0].window
    wide, tall = window[2] - window[0], window[3] - window[1]
    assert grid.first[0] < x0
    assert grid.first[1] < y0
    assert grid.first[0] + (grid.columns - 1) * grid.step[0] + wide > x1
    assert grid.first[1] + (grid.rows - 1) * grid.step[1] + tall > y1
    places: dict[str, list[tuple[float, float]]] = {}
    for row in range(grid.rows):
        for column in range(grid.columns):
            for name, (x, y) in cross_places(grid, (column, row), window):
                at = (
                    x - window[0] + grid.first[0] + column * grid.step[0],
                    y - window[1] + grid.first[1] + row * grid.step[1],
                )
                places.setdefault(name, []).append(at)
    # each cross stands on two sheets, at one place of the part
    assert all(len(found) == 2 and found[0] == pytest.approx(found[1]) for found in places.values())
    assert len(places) == 2 * ((grid.columns - 1) * grid.rows + (grid.rows - 1) * grid.columns)
    for page in pages:
        check_page(page)
