import json
from pathlib import Path

import pytest

from stackview.shop.parts_list import parts_list
from stackview.shop.parts_record import parts_record, parts_table
from tests.shop.box_lamp import box_study


def test_record_and_table_say_the_same(tmp_path: Path) -> None:
    listed = parts_list(box_study(tmp_path))
    record = parts_record(listed)
    assert json.loads(json.dumps(record, allow_nan=False)) == record
    assert (record["lamp"], record["lamps"], record["currency"]) == ("Box", 1, "EUR")
    base = record["parts"][0]
    assert (base["tall_mm"], base["tall"], base["stock"]["sold_mm"]) == (19.4, "19.4 mm", 20.0)
    assert base["work"]["bores"]
    rows = parts_table(listed)
    assert len(rows) == len(record["parts"]) + len(record["bought"])
    assert len({tuple(row) for row in rows}) == 1
    assert [row["part"] for row in rows if row["list"] == "make"] == [
        part["part"] for part in record["parts"]
    ]
    assert sum(row["price"] or 0.0 for row in rows if row["list"] == "buy") == pytest.approx(record["price"])  # type: ignore[misc]
    assert not any(isinstance(value, list | dict) for row in rows for value in row.values())
