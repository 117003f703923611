"""What a filled sheet says of itself."""

import pytest

from stackview.sheets.plan import sheet_plan
from tests.sheets.flat_lamps import BOARD, moth


def test_shares_reach_and_names() -> None:
    plan = sheet_plan(moth(BOARD))
    (oak,) = plan.stocks
    (sheet,) = plan.sheets
    assert (sheet.words, sheet.bought, oak.bought) == ("board", False, ())
    assert oak.share == pytest.approx(sheet.share)
    assert 8.0 < sheet.reach[0] <= 592.0005
    assert sheet.reach[1] <= 172.0005
    assert not plan.interrupted
    assert repr(plan).startswith("SheetPlan(")
