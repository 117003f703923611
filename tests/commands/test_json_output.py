"""The sightlines' record on the way out: one JSON object, with or without every point's own bands."""

import io
import json
from pathlib import Path

import pytest

from stackview.commands.json_output import write_record
from stackview.findings import Finding, Level
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"


@pytest.fixture(scope="module")
def study() -> Study:
    return Study.read(DEMOS / "moor-drum.toml", bearings=36)


def written(study: Study, findings: tuple[Finding, ...] = (), *, bands: bool, spots: bool = True) -> dict:  # type: ignore[type-arg]
    out = io.StringIO()
    write_record(study, findings, out, bands=bands, spots=spots)
    found: dict = json.loads(out.getvalue())  # type: ignore[type-arg]
    assert out.getvalue().endswith("\n")
    return found


def test_bands_are_added_and_nothing_else_changes(study: Study) -> None:
    short, full = written(study, bands=False), written(study, bands=True)
    assert {key: full[key] for key in short} == short
    assert set(full) - set(short) == {"points", "point_bands"}
    assert len(full["points"]) == short["light_points"] == len(study.sightlines.points)
    assert len(full["point_bands"]) == len(study.sightlines.bands)


def test_spots_stand_with_their_eyes_or_are_left_out(study: Study) -> None:
    full, short = written(study, bands=False), written(study, bands=False, spots=False)
    assert [len(eye["spots"]) for eye in full["eyes"]] == [len(own.plates) for own in study.spots]
    assert all("spots" not in eye for eye in short["eyes"])
    light = full.pop("light_leaving")
    assert 0.0 < light["lumens"] < light["lumens_of_light_points"]
    for eye in full["eyes"]:
        del eye["spots"]
    assert full == short


def test_what_evens_spots_stands_with_each_eye(study: Study) -> None:
    out = io.StringIO()
    write_record(study, (), out, bands=False, spots=True, mends=True)
    # opal plates over one diode: the demo has no spots, and is offered nothing
    assert [eye["evened_by"] for eye in json.loads(out.getvalue())["eyes"]] == [[], []]


def test_every_band_lies_between_straight_down_and_straight_up(study: Study) -> None:
    for band in written(study, bands=True)["point_bands"]:
        assert -90.0 <= band["low_deg"] < band["high_deg"] <= 90.0
        assert 0.0 <= band["bearing_deg"] < 360.0
        assert band["class"] in ("bare", "glazed", "veiled")


def test_findings_are_written_as_they_are(study: Study) -> None:
    finding = Finding("seat", Level.FAULT, "plate “月”", "no", advice="Round it.")
    (row,) = written(study, (finding,), bands=False)["findings"]
    assert row == finding.record()
