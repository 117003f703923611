"""What a command says: lines that hang together, counts with their nouns, and seats in words."""

from dataclasses import replace
from pathlib import Path

import pytest
from rich.console import Console
from rich.text import Text

from stackview.commands.summary import _lit, say, show_findings, show_sightlines, show_stack, tally
from stackview.description.light_source import Diode, Emitter, Feed, Light
from stackview.description.units import MILLIMETRES
from stackview.findings import Finding, Level
from stackview.light.layout import Lit
from stackview.stack.assembly import masses
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"


@pytest.fixture
def screen() -> Console:
    return Console(width=60, record=True, force_terminal=False, highlight=False, markup=False, emoji=False)


@pytest.fixture(scope="module")
def study() -> Study:
    return Study.read(DEMOS / "honeycomb.toml", bearings=36)


def of(*levels: Level) -> tuple[Finding, ...]:
    return tuple(
        Finding("check", level, f"part {k}", "it is so", advice="Do this.") for k, level in enumerate(levels)
    )


def test_further_lines_stay_under_the_first(screen: Console) -> None:
    say(screen, "word " * 30, indent=2, label=Text("fault: "))
    lines = screen.export_text().splitlines()
    assert lines[0].startswith("  fault: word")
    assert len(lines) > 2
    assert all(line.startswith("      word") for line in lines[1:])
    assert all(len(line) <= 60 for line in lines)
    assert sum(line.count("word") for line in lines) == 30


def test_counts_have_their_nouns() -> None:
    assert tally(()) == "No findings."
    assert tally(of(Level.NOTE)) == "1 note."
    assert tally(of(Level.NOTE, Level.FAULT, Level.NOTE, Level.CAUTION)) == "1 fault, 1 caution, 2 notes."


def test_findings_below_the_level_are_only_counted(screen: Console) -> None:
    show_findings(screen, of(Level.FAULT, Level.CAUTION, Level.NOTE, Level.NOTE), Level.CAUTION)
    said = screen.export_text()
    assert said.count("Do this.") == 2
    assert "note:" not in said
    assert "Besides, 2 notes." in said


def test_every_part_stands_in_the_table_once_with_its_mass(study: Study) -> None:
    wide = Console(width=200, record=True, force_terminal=False, highlight=False, markup=False, emoji=False)
    show_stack(wide, study)
    said = wide.export_text()
    parts = [part for part in study.stack.placed if part.role != "cord"]
    rows = [
        line
        for line in said.splitlines()
        if any(f" {part.name} " in line for part in parts) and " g " in line
    ]
    assert len(rows) >= len(parts)
    grams = sum(mass.grams for mass in masses(study.stack))
    assert f"{grams:.0f} g without wiring" in said


def test_the_headline_is_what_the_sightlines_say(study: Study) -> None:
    wide = Console(width=200, record=True, force_terminal=False, highlight=False, markup=False, emoji=False)
    show_sightlines(wide, study)
    said = wide.export_text()
    assert f"{len(study.sightlines.points)} light points" in said
    assert f"{study.sightlines.share_bare:.1%} of all directions" in said
    for seen in study.sightlines.eyes:
        assert seen.eye.name in said


def test_power_is_said_only_where_it_is_known() -> None:
    emitter = Emitter(120.0, (1.0, 1.0), 2700.0, None, 0.5)
    light = Light("spot", Diode("base", "up", (0.0, 0.0), 0.0, 0.0, 0.0), emitter, Feed(5.0, None))
    assert _lit(Lit(light, 1, ()), MILLIMETRES) == "spot: 1 light point, 0.5 W, 0.10 A at 5 V."
    dark = replace(light, emitter=replace(emitter, watts=None))
    assert _lit(Lit(dark, 3, ()), MILLIMETRES) == "spot: 3 light points."
