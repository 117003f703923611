"""Each demo has the findings that it is meant to have, at their levels, and no others.

A demo shows a lamp as somebody might first draw it, with a flaw or two to be found. Notes are
only counted: there are fewer than ten, and facts stand apart from them.
"""

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from stackview.checks.all_checks import names_of
from stackview.findings import Finding, Level
from stackview.study import Study

DEMOS = Path(__file__).parents[2] / "demos"

# demo → faults as (check, where), each a flaw that the demo was given or keeps.
FAULTS: dict[str, set[tuple[str, str]]] = {
    "honeycomb": {
        ("seat", "base plate in base"),  # its corners were left sharp
        ("supply", 'light "runs"'),  # 72 light points of 20 mA on a port of 0.5 A
    },
    "kelp": set(),
    "moor-drum": set(),
    "turning-lantern": set(),
}

# demo → cautions by check, and how many; findings on layers alike count once.
CAUTIONS: dict[str, dict[str, int]] = {
    "honeycomb": {
        "bare light": 2,  # open pairs show the strips, seated and standing
        "movement": 2,  # plates of acrylic, across the grain of walnut: their recesses, and their joints
        "heat": 1,  # 7.2 W on a core of wood
    },
    "kelp": {
        "movement": 3,  # as above in ash, and the lid on a tube of aluminium
        "supply": 1,  # 3 m of thin cord
        "heat": 1,
        "hanging": 2,  # the cord is not over the middle of the weight
    },
    "moor-drum": {
        "bare light": 1,  # the diode shows to a reader lying down
    },
    "turning-lantern": {
        "movement": 3,  # grain of one ring across that of the next, and plates as above
    },
}


@cache
def studied(demo: str) -> Study:
    return Study.read(DEMOS / f"{demo}.toml")


def at(demo: str, level: Level) -> list[Finding]:
    return [finding for finding in studied(demo).findings if finding.level == level]


def test_every_demo_is_listed() -> None:
    assert {file.stem for file in DEMOS.glob("*.toml")} == FAULTS.keys() == CAUTIONS.keys()


@pytest.mark.parametrize("demo", FAULTS)
def test_exactly_these_faults(demo: str) -> None:
    assert {(finding.check, finding.where) for finding in at(demo, Level.FAULT)} == FAULTS[demo]


@pytest.mark.parametrize("demo", CAUTIONS)
def test_exactly_these_cautions(demo: str) -> None:
    assert Counter(finding.check for finding in at(demo, Level.CAUTION)) == CAUTIONS[demo]


@pytest.mark.parametrize("demo", FAULTS)
def test_no_finding_is_told_twice_and_worst_comes_first(demo: str) -> None:
    every = studied(demo).findings
    assert len(every) == len(set(every))
    assert [finding.level for finding in every] == sorted((finding.level for finding in every), reverse=True)


@pytest.mark.parametrize("demo", FAULTS)
def test_every_alarm_says_how_much_by_whose_word_and_what_would_mend_it(demo: str) -> None:
    for finding in studied(demo).findings:
        assert finding.where
        assert finding.what
        assert finding.source
        assert (finding.bound is None) == (finding.limit is None), finding
        if finding.level >= Level.CAUTION:
            assert finding.advice, finding


@pytest.mark.parametrize("demo", FAULTS)
def test_notes_are_few_and_working_safely_is_the_last(demo: str) -> None:
    notes = at(demo, Level.NOTE)
    assert len(notes) <= 10
    assert (notes[-1].check, notes[-1].where) == ("caution", "working safely")
    assert all(fact.level == Level.FACT for fact in studied(demo).facts)


@pytest.mark.parametrize("demo", FAULTS)
def test_what_findings_are_called_is_in_the_table_of_checks(demo: str) -> None:
    assert {one.check for one in studied(demo).checked} <= set(names_of())


@pytest.mark.parametrize("demo", FAULTS)
def test_parts_are_parts_and_no_number_is_held_against_itself(demo: str) -> None:
    parts = {part.name for part in studied(demo).stack.placed}
    for one in studied(demo).checked:
        assert set(one.parts) <= parts
        assert one.parts or one.check not in (
            "seat",
            "overlap",
            "walls",
            "movement",
            "support",
            "light leaks",
        )
        assert {place.part for place in one.places} <= set(one.parts)
        said = f" {one.what}. {one.advice}"
        for word in (" 0 mm ", " -0 mm", "-0.0 ", "-0.0,", " 1 light points"):
            assert word not in said, said


def test_kelp_closes_below_with_a_plate_that_comes_out_sunk() -> None:
    (sunk,) = [one for one in studied("kelp").facts if "sunk" in one.what]
    assert sunk.where == "bottom plate in lowest ring"
    assert sunk.value == pytest.approx(2.95 - 3.0)  # measured less the depth of its recess
    assert "0.05 mm sunk" in sunk.what


def only(demo: str, check: str, level: Level, words: str = "") -> Finding:
    (found,) = [one for one in at(demo, level) if one.check == check and words in one.what]
    return found


def test_honeycomb_draws_what_a_plain_port_does_not_give() -> None:
    fault = only("honeycomb", "supply", Level.FAULT)
    assert (fault.value, fault.limit) == (pytest.approx(72 * 0.020), 0.5)
    assert "light fewer of its light points" in fault.advice


def test_kelp_loses_a_tenth_in_its_cord_alone_and_hangs_askew() -> None:
    lost = only("kelp", "supply", Level.CAUTION)
    # 3 m of 0.5 mm² at 12.8 W/5 V: 2·0.017241/0.5·3·2.56 = 0.53 V
    assert "0.53 V are lost in 3 m of 0.5 mm² cord" in lost.what
    tilt = only("kelp", "hanging", Level.CAUTION, "askew")
    assert tilt.value is not None
    assert tilt.value > 10.0
    assert "Let the cord leave over the centre of mass" in tilt.advice


def test_kelps_strip_is_wound_wide_enough() -> None:
    assert not any(one.check == "strip" for one in at("kelp", Level.CAUTION))


def test_turning_lanterns_grain_crosses_from_ring_to_ring() -> None:
    assert "cross at up to 85°" in only("turning-lantern", "movement", Level.CAUTION, "grains cross").what
    assert any("the groove holds 1.20 mm²" in one.what for one in studied("turning-lantern").facts)


def test_moor_drum_loses_most_of_its_diodes_light() -> None:
    lost = only("moor-drum", "light", Level.NOTE)
    assert lost.value is not None
    assert lost.value > 90.0
