"""What check says: amounts in the lamp's own unit, limits with their source, the table of all checks."""

import io
import json

import pytest

from stackview.checks.all_checks import ALL_CHECKS
from stackview.commands.check_output import _amount, _held, show_list, write_list
from stackview.description.limits_table import known_limits
from stackview.description.units import Units
from stackview.findings import Bound, Finding, Level


@pytest.mark.parametrize(
    ("value", "of", "shown"),
    [
        (0.123456, "", "0.123"),
        (12.345, "A", "12.3 A"),
        (1234.5, "g", "1234 g"),
        (45.0, "°", "45°"),
        (12.0, "%", "12%"),
        (1.0, "light points", "1 light point"),
        (2.0, "light points", "2 light points"),
        (3.0, "mm", "3 mm"),
    ],
)
def test_amounts_with_their_unit(value: float, of: str, shown: str) -> None:
    assert _amount(value, of, Units("mm")) == shown


def test_value_limit_and_source_stand_in_one_line() -> None:
    full = Finding("seat", Level.FAULT, "plate", "no", 0.25, "mm", 0.0, "plane geometry", bound=Bound.MOST)
    assert _held(full, Units("mm")) == "[seat] 0.25 mm; plane geometry"
    some = Finding(
        "walls", Level.CAUTION, "ring", "thin", 2.5, "mm", 3.0, "common practice", bound=Bound.LEAST
    )
    assert _held(some, Units("mm")) == "[walls] 2.5 mm, at least 3 mm; common practice"
    assert _held(
        Finding("seat", Level.NOTE, "plate", "no", 0.25, "mm", None, "from memory"), Units("mm")
    ) == ("[seat] from memory")


def test_the_table_in_json_holds_every_check_and_limit() -> None:
    out = io.StringIO()
    write_list(out, None)
    rows = json.loads(out.getvalue())["checks"]
    assert [row["check"] for row in rows] == [check.name for check in ALL_CHECKS]
    known = known_limits()
    for row, check in zip(rows, ALL_CHECKS, strict=True):
        assert [limit["name"] for limit in row["limits"]] == list(check.limits)
        for limit in row["limits"]:
            assert limit["value"] == known[limit["name"]].value
            assert limit["source"]
            assert limit["bound"] == known[limit["name"]].bound.value


def test_the_table_in_words_holds_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    show_list(None)
    said = " ".join(capsys.readouterr().out.split())
    for check in ALL_CHECKS:
        assert " ".join(f"{', '.join((check.name, *check.also))}: {check.question}".split()) in said
        for name in check.limits:
            assert f"{name} = {known_limits()[name].value:g}" in said
    assert "wall_wood = 3 mm (at least)" in said
    assert "leak = 1.5 mm (at least)" in said
    assert "voltage_drop = 10% (at most)" in said
    assert "room_hottest = 30 °C (taken as it stands)" in said
