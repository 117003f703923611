"""``stackview check``: findings as text and as JSON, the table of checks, limits and exit codes."""

import json
from pathlib import Path

import pytest

import stackview

DEMOS = Path(__file__).parents[2] / "demos"
KEYS = {
    "bound",
    "check",
    "level",
    "where",
    "what",
    "short",
    "value",
    "unit",
    "limit",
    "source",
    "advice",
    "parts",
    "places",
    "mends",
    "mends_note",
}


@pytest.fixture(scope="module")
def drum() -> Path:
    return DEMOS / "moor-drum.toml"


def test_json_is_one_documented_object(answered, run, drum: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, err = answered("check", drum, "--json")
    assert (code, err) == (0, "")
    found = json.loads(out)
    assert (found["lamp"], found["unit"], found["version"]) == ("Moor Drum", "mm", stackview.__version__)
    listed = [
        name
        for row in json.loads(run("check", "--list", "--json")[1])["checks"]
        for name in (row["check"], *row["also"])
    ]
    assert found["ran"] == listed
    failed = {one["check"] for one in found["findings"] if one["level"] in ("fault", "caution")}
    assert found["passed"] == [name for name in listed if name not in failed]
    assert {"heights", "walls", "support"} <= set(found["passed"])
    assert all(finding.keys() == KEYS for finding in found["findings"])
    levels = [("note", "caution", "fault").index(finding["level"]) for finding in found["findings"]]
    assert levels == sorted(levels, reverse=True)
    assert all(fact["level"] == "fact" for fact in found["facts"])
    assert {"heights", "glue", "standing"} <= {fact["check"] for fact in found["facts"]}


@pytest.mark.slow
def test_a_fault_names_its_parts_and_its_place(run) -> None:  # type: ignore[no-untyped-def]
    found = json.loads(run("check", DEMOS / "honeycomb.toml", "--json")[1])
    assert (found["lamp"], found["unit"]) == ("Honeycomb", "in")
    (fault,) = [
        finding for finding in found["findings"] if finding["check"] == "seat" and finding["level"] == "fault"
    ]
    assert fault["where"] == "base plate in base"
    assert fault["parts"] == ["base", "base plate"]
    ((x, y),) = [(place["x_mm"], place["y_mm"]) for place in fault["places"]]
    assert (x / 25.4, y / 25.4) == pytest.approx((1.386, 2.400), abs=6e-4)
    assert fault["value"] > fault["limit"] == 0.0
    assert fault["unit"] == "mm"
    assert fault["advice"]


def test_text_says_what_the_json_says(answered, drum: Path) -> None:  # type: ignore[no-untyped-def]
    text = " ".join(answered("check", drum)[1].split())
    found = json.loads(answered("check", drum, "--json")[1])["findings"]
    for finding in found:
        assert f"{finding['level']}: {finding['where']}: {finding['what']}." in text
        assert finding["advice"] in text
    notes = sum(finding["level"] == "note" for finding in found)
    assert f"{notes} notes" in text


@pytest.mark.parametrize(("level", "code"), [("caution", 1), pytest.param("note", 1, marks=pytest.mark.slow)])
def test_fail_on(answered, drum: Path, level: str, code: int) -> None:  # type: ignore[no-untyped-def]
    assert answered("check", drum, "--fail-on", level)[0] == code


def test_facts_stand_in_a_table_of_their_own(answered, drum: Path) -> None:  # type: ignore[no-untyped-def]
    facts = json.loads(answered("check", drum, "--json")[1])["facts"]
    plain, whole = (" ".join(answered("check", drum, *more)[1].split()) for more in ((), ("--all",)))
    assert f"{len(facts)} facts on heights" in plain
    assert "Facts" in whole
    for fact in facts:
        assert fact["what"] not in plain
    assert "whole lamp" in whole
    assert "whole lamp" not in plain


@pytest.mark.slow
def test_fail_on_fault(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    hot = tmp_path / "hot.toml"
    hot.write_text(
        (DEMOS / "moor-drum.toml").read_text(encoding="utf-8").replace("watts = 1\n", "watts = 9\n")
    )
    assert run("check", hot, "--fail-on", "fault")[0] == 1
    assert run("new", tmp_path / "first.toml")[0] == 0
    assert run("check", tmp_path / "first.toml", "--fail-on", "fault")[0] == 0


def test_own_limits(run, drum: Path, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    own = tmp_path / "mine.toml"
    own.write_text("cutter_reach = 3\n", encoding="utf-8")
    found = json.loads(run("check", drum, "--json", "--limits", own)[1])["findings"]
    deep = [
        finding for finding in found if finding["check"] == "cutter reach" and finding["level"] == "caution"
    ]
    assert deep
    assert all(finding["limit"] == pytest.approx(9.0) for finding in deep)
    own.write_text("cutter_rich = 3\n", encoding="utf-8")
    code, out, err = run("check", drum, "--limits", own)
    assert (code, out) == (2, "")
    assert 'did you mean "cutter_reach"?' in err


def test_list_of_checks(run) -> None:  # type: ignore[no-untyped-def]
    code, out, _ = run("check", "--list")
    assert code == 0
    table = json.loads(run("check", "--list", "--json")[1])["checks"]
    text = " ".join(out.split())
    for check in table:
        assert f"{', '.join((check['check'], *check['also']))}: {check['question']}" in text
        assert " ".join(check["formula"].split()) in text
        assert " ".join(check["source"].split()) in text
        for limit in check["limits"]:
            assert f"{limit['name']} = {limit['value']:g}" in text


def test_lamp_is_asked_for(run) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("check")
    assert (code, out) == (2, "")
    assert "--list" in err


def test_unreadable_lamp(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    code, _, err = run("check", tmp_path / "none.toml")
    assert code == 2
    assert "there is no such file" in err


def test_the_lamp_is_not_changed(run, drum: Path) -> None:  # type: ignore[no-untyped-def]
    before = drum.read_bytes()
    run("check", drum)
    assert drum.read_bytes() == before
