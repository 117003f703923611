"""The JSON says what the plan holds."""

import json

from stackview.sheets.plan import sheet_plan
from stackview.sheets.record import sheets_record
from tests.sheets.flat_lamps import BOARD, KNOT, moth


def test_everything_is_in_the_record() -> None:
    plan = sheet_plan(moth(KNOT, BOARD), 2)
    record = json.loads(json.dumps(sheets_record(plan)))
    assert (record["lamps"], record["cutter_mm"], record["gap_mm"]) == (2, 6.0, 7.0)
    (oak,) = record["stocks"]
    assert sum(len(sheet["pieces"]) for sheet in oak["sheets"]) == 8
    for sheet in oak["sheets"]:
        for piece in sheet["pieces"]:
            x0, y0, x1, y1 = piece["rectangle_mm"]
            assert 0.0 < x0 < x1 < sheet["size_mm"][0]
            assert 0.0 < y0 < y1 < sheet["size_mm"][1]
    assert {part["part"] for part in oak["parts"]} == {"base", "ring", "puck", "top"}
    assert [one["sheet"] for one in oak["yields"]] == ["offcut", "board"]
    (plate,) = record["without_sheet"]
    assert plate["sizes_that_do"][0]["across_mm"] > 60.0
    assert record["currency"] == "EUR"
