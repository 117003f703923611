"""The table of checks is whole, and finds nothing wrong with sound rings."""

from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.subject import run_checks
from stackview.description.lamp import Layer
from stackview.description.limits_table import known_limits
from stackview.findings import Level
from tests.checks.subjects import ASH, subject_of
from tests.stack.layers import circle, plate, pocket, ring


def test_every_check_states_question_formula_source_and_known_limits() -> None:
    names = [one.name for one in ALL_CHECKS]
    assert len(names) == len(set(names))
    for one in ALL_CHECKS:
        assert one.question.endswith("?"), one.name
        assert one.formula, one.name
        assert one.source, one.name
        assert set(one.limits) <= known_limits().keys(), one.name


def test_every_limit_is_held_by_some_check() -> None:
    assert {name for one in ALL_CHECKS for name in one.limits} == set(known_limits())


def test_sound_rings_raise_no_alarm() -> None:
    subject = subject_of(
        Layer("base", ASH, 10.0, circle(120.0)),
        ring("ring", recess=pocket(circle(104.0), 1.5, to="plate")),
        plate("plate", circle(104.0)),
        ring("upper"),
    )
    geometry = ("heights", "seat", "overlap", "cutter reach", "walls", "line-up", "light leaks", "bare light")
    mine = tuple(one for one in ALL_CHECKS if one.name in geometry)
    assert len(mine) == len(geometry)
    assert all(one.level <= Level.NOTE for one in run_checks(subject, mine))
