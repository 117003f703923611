"""What is said of a plan: yields, what to buy, near misses, and what was cut short."""

import io
from dataclasses import replace

import pytest
from rich.console import Console

from stackview.commands.sheets_output import say_first, show_sheets, write_sheets_json
from stackview.sheets.layout import SheetPlan
from stackview.sheets.plan import sheet_plan
from tests.sheets.flat_lamps import BOARD, moth


def said(plan: SheetPlan) -> str:
    out = io.StringIO()
    show_sheets(Console(file=out, width=100, markup=False, highlight=False), plan, moth().lamp.units, 20.0)
    return " ".join(out.getvalue().split())


@pytest.fixture(scope="module")
def plan() -> SheetPlan:
    # two tops, 80 wide, and 7 between them lack 0.4 of the 166.6 between the margins
    return sheet_plan(moth(BOARD.replace("180", "182.6")), 4, longest=0.5)


def test_what_to_buy_and_by_how_much(plan: SheetPlan) -> None:
    told = said(plan)
    (oak,) = plan.stocks
    assert oak.bought
    assert "On the sheets at hand there is no place for" in told
    assert f'To buy: {len(oak.bought)} × "board", 600 mm × 182.6 mm, {38 * len(oak.bought):.2f} EUR' in told
    assert "of the last one," in told
    assert f'One whole "board" gives the parts of {oak.yields[0].lamps}' in told


def test_a_near_miss_is_told_with_what_would_do(plan: SheetPlan) -> None:
    told = said(plan)
    assert 'lack 0.4 mm front to back on "board": they take 167 mm with their gaps, and 166.6 mm are' in told
    assert "a margin of 7.8 mm in place of 8 mm would do" in told


def test_a_search_cut_short_says_so(plan: SheetPlan) -> None:
    assert "Stopped on the way" in said(replace(plan, interrupted=True))
    stocks = tuple(replace(stock, tried=3, planned=9) for stock in plan.stocks)
    assert "Time ran out after 20 s, with 3 of 9 ways tried" in said(replace(plan, stocks=stocks))


def test_json_and_the_first_layout(plan: SheetPlan, capsys: pytest.CaptureFixture[str]) -> None:
    out = io.StringIO()
    write_sheets_json(plan, out)
    assert out.getvalue().startswith('{"version": ')
    say_first(20.0)(plan.sheets[:1])
    assert "takes 1 sheet; looking for better ones, for 20 s at most" in capsys.readouterr().err
