"""The page of a sheet: every number a router wants, nothing cropped, long tables on pages of their own."""

from dataclasses import replace

import pytest

from stackview.curves.arcs import bounds
from stackview.description.outline import Outline
from stackview.description.shapes import Rectangle
from stackview.drawings.sheet_page import SheetNote, draw_sheet_page, table_of_parts
from stackview.errors import StackviewError
from stackview.sheets.layout import FilledSheet, SheetPlan
from stackview.sheets.plan import sheet_plan
from tests.sheets.flat_lamps import BOARD, KNOT, moth


@pytest.fixture(scope="module")
def plan() -> SheetPlan:
    return sheet_plan(moth(KNOT, BOARD), 2, longest=0.1)


def pages(filled: FilledSheet, plan: SheetPlan, paper: str = "a4"):
    units = moth().lamp.units.alone
    return draw_sheet_page(filled, SheetNote(plan, 1, 2, "offcut-1", units), paper=paper)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_number_stands_on_the_page_and_within_it(plan: SheetPlan, paper: str) -> None:
    filled = plan.sheets[0]
    (page,) = pages(filled, plan, paper)
    said = " ".join(words for words, _ in page.boxes)
    for number in (
        "300 mm",
        "200 mm",
        "19.4 mm",
        "6 mm",
        "7 mm",
        "8 mm",
        "knot",
        "front to back",
        "offcut-1.dxf",
        "1:2",
    ):
        assert number in said, number
    for one in filled.parts:
        x0, y0, _, _ = bounds(one.outline)
        units = moth().lamp.units.alone
        assert f"{one.part.number}: {units.plain(x0)} | {units.plain(y0)}" in said
        assert f"{one.part.number} is {one.part.title}: " in said
    for words, (left, low, right, high) in page.boxes:
        assert left >= 0.0, words
        assert low >= 0.0, words
        assert right <= page.size.width, words
        assert high <= page.size.height, words


@pytest.mark.slow
def test_a_long_table_goes_on(plan: SheetPlan) -> None:
    filled = plan.sheets[0]
    many = replace(filled, parts=filled.parts * 60)
    first, *later = pages(many, plan)
    assert later
    told = " ".join(words for page in later for words, _ in page.boxes)
    assert told.count(f"{filled.parts[0].part.number}: ") >= 60
    assert "on the next page" in " ".join(words for words, _ in first.boxes)


def test_a_sheet_that_no_page_holds_is_refused(plan: SheetPlan) -> None:
    filled = plan.sheets[0]
    huge = replace(filled.sheet, outline=Outline(Rectangle(40_000.0, 300.0)))
    with pytest.raises(StackviewError, match="larger than a4 paper holds at 1:100"):
        pages(replace(filled, sheet=huge), plan)


def test_zones_and_what_lies_the_other_way_up_are_in_the_table(plan: SheetPlan) -> None:
    every = [row for filled in plan.sheets for row in table_of_parts(filled, moth().lamp.units.alone)]
    assert all("underside up" in row for row in every if row.startswith("5: "))
    assert any("in the waste of 2" in row for row in every if row.startswith("3: "))
    rows = table_of_parts(plan.sheets[0], moth().lamp.units.alone)
    assert rows[-1] == "zone 1 (knot): 65 mm | 75 mm, 30 mm × 30 mm"
