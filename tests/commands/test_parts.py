import csv
import io
import json
from pathlib import Path

import pytest

from stackview.__main__ import main
from tests.shop.box_lamp import BOX

DEMO = "demos/moor-drum.toml"


def test_csv_and_json_say_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", DEMO, "--lamps", "2", "--json"]) == 0
    record = json.loads(capsys.readouterr().out)
    assert main(["parts", DEMO, "--lamps", "2", "--csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    made = [row for row in rows if row["list"] == "make"]
    assert [(row["part"], int(row["count"])) for row in made] == [
        (part["part"], part["count"]) for part in record["parts"]
    ]
    assert record["lamps"] == 2


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (["--csv", "--json"], "choose one"),
        (["--lamps", "0"], "0 lamps: give a whole number from 1 to 10000"),
        (["--lamps", "2.5"], "2.5 lamps: give a whole number from 1 to 10000"),
        (["--lamps", "nan"], "nan lamps: give a whole number"),
        (["--lamps", "many"], "many"),
    ],
)
def test_bad_arguments(more: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["parts", DEMO, *more]) == 2
    assert says in capsys.readouterr().err


def test_a_bad_price_is_told_with_its_place(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "box.toml"
    path.write_text(BOX.replace("95 per m2", "95 a board"), encoding="utf-8")
    assert main(["parts", str(path)]) == 2
    said = capsys.readouterr().err
    assert 'material "oak" · price: "95 a board" is no price: write an amount and what it is for' in said
