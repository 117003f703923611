"""Pages of parts: every number on them, none over another, none cropped."""

import pytest
from hypothesis import Phase, given, settings

from stackview.description.lamp import Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.description.units import Units
from stackview.drawings.paper import PAPERS
from stackview.drawings.part_page import draw_part_page, mark_words
from stackview.drawings.part_section import STANDARD_SCALES
from stackview.shop.part_sheet import part_sheets
from stackview.study import Study
from tests.drawings.sheets import check_page, full_sheet, layers, note_of, sheet_of
from tests.shop.parts import WOOD


def page_of(sheet, units=None, paper="a4"):
    pages, scale = draw_part_page(sheet, note_of(units), paper=paper, cutter=3.0, chord_error=0.05)
    return pages[0], scale


def words_on(page) -> str:
    return " ".join(words for words, _ in page.boxes)


@pytest.mark.parametrize(("unit", "paper"), [("mm", "a4"), ("in", "letter"), ("cm", "a4"), ("ft", "letter")])
def test_a_full_part_has_all_its_numbers(unit: str, paper: str) -> None:
    page, _ = page_of(full_sheet(), Units(unit), paper)
    check_page(page)
    assert page.size == PAPERS[paper]
    if unit == "mm":
        said = words_on(page)
        for number in ("150 mm", "90 mm", "60 mm", "40 mm", "134 mm", "74 mm", "18 mm", "R 12 mm", "R 5 mm",
                       "2 mm deep", "5 mm deep", "⌀ 8 mm", "⌀ 4 mm", "⌀ 6 mm", "2 mm × 45°", "3 mm × 60°",
                       "1.5 mm wide", "45 mm"):  # fmt: skip
            assert number in said, number


@pytest.mark.parametrize(
    ("size", "scale"),
    [(4.0, 20.0), (8.0, 10.0), (17.0, 5.0), (40.0, 2.0), (120.0, 1.0), (300.0, 0.5), (780.0, 0.2)],
)
def test_scales_are_those_of_the_standard(size: float, scale: float) -> None:
    # ISO 5455, from memory: 50, 20, 10, 5, 2 to 1; full size; 1 to 2, 5, 10, 20 and so on
    sheet = sheet_of(Layer("plate", WOOD, 0.1 * size, Outline(Circle(size))))
    page, found = page_of(sheet)
    assert found == scale
    assert found in STANDARD_SCALES
    check_page(page)


def test_a_table_too_long_for_its_page_follows_on_the_next() -> None:
    layer = Layer("w" * 120, WOOD, 9.0, Outline(Rectangle(80.0, 60.0)))
    sheet = sheet_of(layer, *(-5.0 * k for k in range(12)))
    pages, _ = draw_part_page(sheet, note_of(), paper="a4", cutter=3.0, chord_error=0.05)
    assert len(pages) == 2
    for page in pages:
        check_page(page)
    assert "told on the next page" in words_on(pages[0])
    # 30 tan 5° = 2.62 to the left
    assert "2.62 mm left" in words_on(pages[1])


def test_where_marks_go_in_words() -> None:
    (row,) = mark_words(
        sheet_of(Layer("lid", WOOD, 9.0, Outline(Rectangle(80.0, 60.0))), 0.0, 20.0, 90.0), Units("mm")
    )
    assert row.endswith("a: lid 1, in the middle; b: lid 2, 10.92 mm right; c: lid 3, at x 40 mm, y 0 mm")
    assert mark_words(sheet_of(Layer("lid", WOOD, 9.0, Outline(Circle(80.0)))), Units("mm")) == []


@pytest.mark.parametrize("demo", ["honeycomb"])
def test_pages_of_demos(demo: str) -> None:
    study = Study.read(f"demos/{demo}.toml")
    for sheet in part_sheets(study):
        page, _ = page_of(sheet, study.lamp.units.alone, "letter")
        check_page(page)


@given(layer=layers())
@settings(max_examples=4, deadline=None, phases=[Phase.explicit, Phase.generate])
def test_random_parts(layer: Layer) -> None:
    page, _ = page_of(sheet_of(layer))
    check_page(page)


@pytest.mark.slow
@given(layer=layers())
@settings(max_examples=150, deadline=None, phases=[Phase.explicit, Phase.generate])
def test_many_random_parts(layer: Layer) -> None:
    page, _ = page_of(sheet_of(layer, 0.0, -12.0), Units("in"), "letter")
    check_page(page)
