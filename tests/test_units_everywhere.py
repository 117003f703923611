"""A lamp written in another unit: the same lamp, and every length is said in that unit first.

Kept as they are, whatever the unit: what the trade counts in metric everywhere (sections of wires,
stress on copper, dust in air), and the sources of limits, which quote what they were taken from.
"""

import re
from pathlib import Path

import numpy as np
import pytest

from stackview.description.lamp_file import LampFile
from stackview.drawings.elevation_drawing import elevation_sheet
from stackview.drawings.section_drawing import section_sheet
from stackview.drawings.sightline_map import map_sheet
from stackview.drawings.spread_drawing import spread_sheet
from stackview.sight.bands import Kind
from stackview.stills.apart import spread_apart
from tests.drawings.drawn import words_of
from tests.in_units import in_unit, written_in
from tests.stills.demos import FOLDER, NAMES, study_of

TRADE = (
    r"mg/m³|N/mm²|[0-9.]+ mm²(?= (?:cable|cord)\b)|"
    r"wires of (?:at least )?[0-9.]+ mm²(?: \([0-9.]+ mm² would do\))?"
)
BESIDE = r"(?<=(?:in|ft|n²|n³) )\((?:[^()]* )?(?:mm|cm|m)[²³]?\)"
METRIC = re.compile(r"[0-9] (?:mm|cm|m)(?![a-zA-Z])")
# "plate 1 in ring 1" is no length
INCHES = re.compile(r"(?:\.[0-9]+|/[0-9]+) in(?![a-z])|[0-9] ft(?![a-z])")


def foreign(words: str, unit: str) -> list[str]:
    """The lengths in a text that are not said in the lamp's own unit first."""
    words = " ".join(words.split())
    words = re.sub(TRADE, "", words)
    if unit in ("in", "ft"):
        return METRIC.findall(re.sub(BESIDE, "", words))
    other = {"cm": r"[0-9] mm(?!²)", "m": r"[0-9]{3,} mm|[0-9] cm(?!²)", "mm": r"[0-9] cm(?!²)"}[unit]
    # cord and cable are sold by the metre
    return INCHES.findall(words) + re.findall(other, words)


def every_unit() -> list[object]:
    """Each demo in each unit; all but two of them only with the slow tests."""
    quick = (("honeycomb", "ft"), ("moor-drum", "ft"))
    return [
        pytest.param(name, unit, marks=() if (name, unit) in quick else (pytest.mark.slow,))
        for name in NAMES
        for unit in ("mm", "cm", "m", "in", "ft")
        if unit != ("in" if name == "honeycomb" else "mm")
    ]


def test_the_guard_finds_what_it_looks_for() -> None:
    assert foreign("a wall of 5 mm", "in") == ["5 mm"]
    assert foreign("a wall of 0.197 in (5 mm), ±0.008 in (0.2 mm)", "in") == []
    assert foreign("3.94 in² (25.4 cm²) of glue in 0.33 mm² cable", "ft") == []
    assert foreign("12.00 mm² of glue", "ft") == ["0 mm"]
    assert foreign("4 ft 11 in (1.5 m) of it", "ft") == []
    assert foreign("1.5 m of it (3 mm)", "ft") == ["5 m", "3 mm"]
    assert foreign("5 mm and 1/4 in", "cm") == ["/4 in", "5 mm"]


@pytest.mark.parametrize(("name", "unit"), every_unit())
def test_the_same_lamp_comes_of_it(name: str, unit: str) -> None:
    written, first = in_unit(name, unit), study_of(name)
    assert written.lamp.unit == unit
    assert written.stack.height == pytest.approx(first.stack.height, abs=1e-9)
    assert written.stack.grams == pytest.approx(first.stack.grams)
    for one, other in zip(written.eyes, first.eyes, strict=True):
        for kind in Kind:
            assert np.array_equal(one.counts(kind), other.counts(kind))
    assert [(f.check, f.level, f.where) for f in written.findings] == [
        (f.check, f.level, f.where) for f in first.findings
    ]
    for one, other in zip(written.findings, first.findings, strict=True):
        assert one.unit == other.unit
        assert one.limit == (None if other.limit is None else pytest.approx(other.limit))
        assert (one.value is None) == (other.value is None)
        assert (one.value or 0.0) == pytest.approx(other.value or 0.0, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(("name", "unit"), every_unit())
def test_findings_say_the_own_unit_first(name: str, unit: str) -> None:
    for finding in in_unit(name, unit).findings:
        said = f"{finding.where}: {finding.what}. {finding.advice}"
        assert foreign(said, unit) == [], said


@pytest.mark.parametrize(("name", "unit"), every_unit())
def test_drawings_say_the_own_unit_first(name: str, unit: str) -> None:
    study, size = in_unit(name, unit), (1600, 1200)
    units, stack = study.lamp.units, study.stack
    sheets = (
        elevation_sheet(stack, units, size, 0.0)[0],
        section_sheet(study.sightlines, stack, None, size),
        map_sheet(study.sightlines, stack, size),
        spread_sheet(stack, spread_apart(stack, study.light), units, size, 35.0, 20.0)[0],
    )
    own = re.compile(r"[0-9] (?:in|ft)\b" if unit in ("in", "ft") else rf"[0-9] (?:{unit}|mm)\b")
    for sheet in sheets:
        words = words_of(sheet)
        for one in words:
            assert foreign(one, unit) == [], one
        # the map of all directions is drawn from far away and has angles alone
        assert sheet is sheets[2] or any(own.search(one) for one in words)


@pytest.mark.parametrize(
    ("name", "unit", "command"),
    [
        ("moor-drum", "ft", "sight"),
        ("moor-drum", "ft", "preview"),
        ("moor-drum", "cm", "sight"),
        pytest.param("honeycomb", "cm", "sight", marks=pytest.mark.slow),
        pytest.param("honeycomb", "cm", "preview", marks=pytest.mark.slow),
    ],
)
def test_commands_say_the_own_unit_first(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    command: str,
    name: str,
    unit: str,
) -> None:
    from stackview.__main__ import main

    # what is said, not what is drawn
    alone = ["--no-pictures"] if command == "preview" else []
    file = tmp_path / "lamp.toml"
    file.write_text(written_in(LampFile.read(FOLDER / f"{name}.toml"), unit).text(), encoding="utf-8")
    assert main([command, str(file), *alone]) == 0
    said = capsys.readouterr().out
    assert "tall" in said
    assert foreign(said, unit) == []
