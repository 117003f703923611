"""``stackview sight``: the table, the record, and that both come from the same numbers."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from stackview.description.reading import read_lamp
from stackview.light.layout import lay_out
from stackview.sight.bands import Kind
from stackview.sight.summary import sightlines
from stackview.stack.assembly import assemble
from tests.change.spotty import LAMP as SPOTTY

DEMOS = Path(__file__).parents[2] / "demos"
WORDS = ("bare", "glazed", "veiled", "shown", "partly_bare", "partly_shown")


@pytest.fixture(scope="module")
def honeycomb():  # type: ignore[no-untyped-def]
    stack = assemble(read_lamp(DEMOS / "honeycomb.toml"))
    return stack, sightlines(stack, lay_out(stack).points)


@pytest.fixture
def record(answered) -> tuple[int, str, str]:  # type: ignore[no-untyped-def]
    """Ending, output and errors of the one record that several tests read."""
    return answered("sight", DEMOS / "honeycomb.toml", "--json", "--no-mends")  # type: ignore[no-any-return]


def test_record_is_one_documented_object(record: tuple[int, str, str]) -> None:
    code, out, err = record
    assert (code, err) == (0, "")
    found = json.loads(out)
    assert {"light_points", "height_mm", "share_of_sphere_bare", "eyes", "bands"} <= found.keys()
    assert found["light_points"] == 72
    assert 0.0 < found["share_of_sphere_bare"] < 1.0
    for eye in found["eyes"]:
        expected = {f"{word}_{how}" for word in WORDS for how in ("worst", "mean", "front")}
        assert expected | {"name", "elevation_deg", "worst_bearing_deg"} <= eye.keys()
        for word in WORDS:
            assert 0 <= eye[f"{word}_front"] <= eye[f"{word}_worst"] <= 72
            assert eye[f"{word}_mean"] <= eye[f"{word}_worst"]
    for band in found["bands"]:
        assert band.keys() == {"bearing_deg", "low_deg", "high_deg", "bare", "bounded_by"}
        assert -90 <= band["low_deg"] < band["high_deg"] <= 90
        assert 1 <= band["bare"] <= 72
        assert len(band["bounded_by"]) == 2
    assert "point_bands" not in found


def test_record_says_what_the_functions_say(record: tuple[int, str, str], honeycomb) -> None:  # type: ignore[no-untyped-def]
    stack, lines = honeycomb
    found = json.loads(record[1])
    assert found["height_mm"] == stack.height
    assert found["share_of_sphere_bare"] == lines.share_bare
    assert len(found["bands"]) == len(lines.bare.low)
    for eye, seen in zip(found["eyes"], lines.eyes, strict=True):
        assert eye["bare_worst"] == int(seen.counts(Kind.BARE).max())
        assert eye["elevation_deg"] == seen.elevation


def test_table_says_what_the_record_says(run, record: tuple[int, str, str]) -> None:  # type: ignore[no-untyped-def]
    table = run("sight", DEMOS / "honeycomb.toml", "--no-spots")[1]
    found = json.loads(record[1])
    for eye in found["eyes"]:
        row = next(
            line
            for line in table.splitlines()
            if line.startswith(f" {eye['name']}") or line.startswith(eye["name"])
        )
        for word in ("shown", "bare", "glazed", "veiled"):
            assert f"{eye[f'{word}_worst']} / {eye[f'{word}_mean']:.1f} / {eye[f'{word}_front']}" in row
    assert f"{found['share_of_sphere_bare']:.1%} of all directions" in table
    assert "CIE S 017" in table


def test_bands_adds_every_points_own(run, honeycomb) -> None:  # type: ignore[no-untyped-def]
    found = json.loads(run("sight", DEMOS / "honeycomb.toml", "--json", "--bands", "--no-spots")[1])
    assert len(found["point_bands"]) == len(honeycomb[1].bands)
    first = found["point_bands"][0]
    assert first.keys() == {"light_point", "bearing_deg", "low_deg", "high_deg", "class", "bounded_by"}
    assert {band["class"] for band in found["point_bands"]} == {"bare", "veiled"}


@pytest.mark.parametrize(("level", "code"), [("fault", 0), ("caution", 1), ("note", 1)])
def test_fail_on(run, level: str, code: int) -> None:  # type: ignore[no-untyped-def]
    assert run("sight", DEMOS / "moor-drum.toml", "--fail-on", level, "--no-spots")[0] == code


def test_fault_fails_on_fault(run) -> None:  # type: ignore[no-untyped-def]
    assert run("sight", DEMOS / "honeycomb.toml", "--fail-on", "fault", "--no-spots")[0] == 1


def test_bad_file_is_one_message_for_each_fault(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    file = tmp_path / "bad.toml"
    file.write_text('[[layer]]\nname = "one"\nmaterial = "nothing"\noutline = { circle = -4 }\n')
    code, out, err = run("sight", file, "--json")
    assert (code, out) == (2, "")
    assert all(line.startswith(f"{file}: ") for line in err.splitlines())
    assert len(err.splitlines()) >= 2
    assert "Traceback" not in err


def test_a_shape_that_cannot_be_made_names_the_file_and_the_layer(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    text = starter.read_text()
    broken = text.replace(
        '{ name = "cap",', '{ name = "cap", chamfer = { edge = "top outer", width = 400, angle = 1 },', 1
    )
    assert broken != text
    starter.write_text(broken)
    code, _, err = run("sight", starter)
    assert code == 2
    assert str(starter) in err
    assert "chamfer" in err


def test_missing_file(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("sight", tmp_path / "no.toml")
    assert (code, out) == (2, "")
    assert "no.toml" in err
    assert len(err.splitlines()) == 1


def test_input_is_never_changed(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    before = starter.read_bytes()
    assert run("sight", starter, "--no-spots")[0] == 0
    assert starter.read_bytes() == before
    assert [entry.name for entry in starter.parent.iterdir()] == [starter.name]


def test_bands_without_json_is_refused(run) -> None:  # type: ignore[no-untyped-def]
    code, out, err = run("sight", DEMOS / "moor-drum.toml", "--bands")
    assert (code, out) == (2, "")
    assert "--json" in err


def test_bands_places_every_point(run) -> None:  # type: ignore[no-untyped-def]
    found = json.loads(run("sight", DEMOS / "moor-drum.toml", "--json", "--bands", "--no-spots")[1])
    (point,) = found["points"]
    assert (point["light_point"], point["light"], point["x_mm"], point["y_mm"]) == (0, "diode", 0.0, 0.0)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize(
    "command", [["schema"], ["sight", str(DEMOS / "moor-drum.toml"), "--json", "--no-spots"]]
)
def test_full_disk_is_one_line(command: list[str]) -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "stackview", *command],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1
    assert "No space left" in done.stderr


@pytest.mark.slow
@pytest.mark.usefixtures("all_ways")
def test_what_evens_spots_is_in_text_and_record(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    lamp = tmp_path / "lamp.toml"
    panel, diode = "panel = { columns = 3, rows = 1, spacing = 30, on", "diode = { height = 2, on"
    lamp.write_text(
        SPOTTY.replace("SORT", "clear").replace(panel, diode).replace("milliamps = 20", "watts = 1")
    )
    text = run("sight", lamp)[1]
    (eye,) = json.loads(run("sight", lamp, "--json")[1])["eyes"]
    best, second = eye["evened_by"][:2]
    assert (best["changes"][0]["typed"], second["changes"][0]["typed"]) == ("opal", "sanded")
    assert best["spots"][0]["after"]["ratio"] <= second["spots"][0]["after"]["ratio"]
    for mend in (best, second):
        assert (
            mend["spots"][0]["after"]["ratio"]
            < mend["spots"][0]["before"]["ratio"]
            == eye["spots"][0]["ratio"]
        )
        assert mend["lumens_out"][1] < mend["lumens_out"][0]
        assert mend["does"].split(";")[0] in " ".join(text.split())
