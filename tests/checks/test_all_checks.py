"""The table of checks is whole, and running it sorts and does not repeat."""

from dataclasses import replace

from stackview.checks.all_checks import ALL_CHECKS, SIGHT_CHECKS, run_checks
from stackview.checks.subject import Check
from stackview.description.lamp import Core, Layer
from stackview.description.limits_table import known_limits
from stackview.findings import Finding, Level
from tests.checks.subjects import ASH, subject_of
from tests.stack.layers import circle, plate, pocket, ring, square


def finding(level: Level, where: str) -> Finding:
    return Finding("test", level, where, "something")


def check(*found: Finding) -> Check:
    return Check("test", "?", "", "", (), lambda _: found)


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


def test_worst_first_each_once_otherwise_in_order() -> None:
    subject = subject_of(Layer("base", ASH, 10.0, circle(100.0)))
    a, b, c = finding(Level.NOTE, "a"), finding(Level.FAULT, "b"), finding(Level.NOTE, "c")
    assert run_checks(subject, (check(a, b), check(b, c, a))) == (b, a, c)


def test_a_fault_of_the_stack_is_found_by_all_and_by_sight() -> None:
    recess = replace(pocket(square(60.0), 2.0, 0.0, 3.0), fitted_to="plate")
    host = Layer("host", ASH, 10.0, circle(120.0), recesses=(recess,))
    subject = subject_of(host, plate("plate", square(60.0)))
    for checks in (ALL_CHECKS, SIGHT_CHECKS):
        faults = [one for one in run_checks(subject, checks) if one.level == Level.FAULT]
        assert [one.check for one in faults] == ["seat"]


def test_parts_in_one_place_are_a_clash() -> None:
    base = Layer("base", ASH, 10.0, circle(120.0))
    subject = subject_of(base, ring("ring", 120.0, 40.0), core=Core(ASH, circle(42.0), 30.0, "base", None))
    (fault,) = [one for one in run_checks(subject, SIGHT_CHECKS) if one.level == Level.FAULT]
    assert (fault.check, fault.where) == ("overlap", "ring and core")


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
    assert all(one.level == Level.NOTE for one in run_checks(subject, mine))
