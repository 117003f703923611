"""The check that stands before everything that is given out catches what it is there for."""

from dataclasses import replace

import pytest

from stackview.errors import StackviewError
from stackview.sheets.layout import FilledSheet
from stackview.sheets.plan import sheet_plan
from stackview.sheets.proof import check_filled_sheet, least_gap, runs_with_grain
from tests.sheets.flat_lamps import BOARD, KNOT, moth


@pytest.fixture(scope="module")
def filled() -> FilledSheet:
    plan = sheet_plan(moth(KNOT, BOARD), 2)
    return next(sheet for sheet in plan.sheets if sheet.sheet.name == "offcut")


def test_a_layout_of_ours_passes_and_keeps_its_gap(filled: FilledSheet) -> None:
    check_filled_sheet(filled, 7.0)
    assert least_gap(filled.parts) >= 7.0 - 0.003
    assert least_gap(filled.parts[:1]) == float("inf")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"x": 5.0}, "margin"),
        ({"turn": 45.0}, "grain|margin|near"),
    ],
)
def test_what_lies_wrong_is_refused(filled: FilledSheet, change: dict[str, float], says: str) -> None:
    moved = replace(filled.parts[0], **change)
    with pytest.raises(StackviewError, match=says):
        check_filled_sheet(replace(filled, parts=(moved, *filled.parts[1:])), 7.0)


def test_each_promise_is_held_by_itself(filled: FilledSheet) -> None:
    one = filled.parts[0]
    plain = replace(filled.sheet, margin=0.0, zones=())
    with pytest.raises(StackviewError, match="too near to each other"):
        check_filled_sheet(replace(filled, sheet=plain, parts=(one, replace(one, x=one.x + 0.5))), 7.0)
    on_knot = replace(one, x=80.0, y=90.0)
    free = replace(filled.sheet, margin=0.0)
    with pytest.raises(StackviewError, match="zone"):
        check_filled_sheet(replace(filled, sheet=free, parts=(on_knot,)), 7.0)
    assert runs_with_grain(filled, one)
    assert runs_with_grain(filled, replace(one, turn=one.turn + 180.0))
    assert not runs_with_grain(filled, replace(one, turn=one.turn + 1.0))
