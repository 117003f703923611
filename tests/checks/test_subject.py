"""Running checks sorts and does not repeat."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest

from stackview.checks.subject import Check, run_checks
from stackview.description.lamp import Layer
from stackview.errors import Fault, LampError, SolidError
from stackview.findings import Finding, Level
from tests.checks.subjects import ASH, subject_of
from tests.stack.layers import circle


def finding(level: Level, where: str) -> Finding:
    return Finding("test", level, where, "something")


def check(*found: Finding) -> Check:
    return Check("test", "?", "", "", (), lambda _: found)


def test_worst_first_each_once_otherwise_in_order() -> None:
    subject = subject_of(Layer("base", ASH, 10.0, circle(100.0)))
    a, b, c = finding(Level.NOTE, "a"), finding(Level.FAULT, "b"), finding(Level.NOTE, "c")
    assert run_checks(subject, (check(a, b), check(b, c, a))) == (b, a, c)


def failing(how: Exception) -> Check:
    def run(_: object) -> tuple[Finding, ...]:
        raise how

    return Check("groove", "Does the groove hold it?", "", "", (), run)


@pytest.mark.parametrize(
    ("how", "why"),
    [
        (SolidError("groove", "{wide} is left", wide=25.4), "groove: 25.4 mm is left"),
        (
            ZeroDivisionError("float\ndivision"),
            "a fault of stackview's own, ZeroDivisionError: float division",
        ),
    ],
)
def test_a_check_that_cannot_be_made_says_so_and_stops_no_other(how: Exception, why: str) -> None:
    subject = subject_of(Layer("base", ASH, 10.0, circle(100.0)))
    a, b = finding(Level.NOTE, "a"), finding(Level.FAULT, "b")
    first, told, last = run_checks(subject, (check(a), failing(how), check(b)))
    assert (first, last) == (b, a)
    assert (told.is_made, a.is_made) == (False, True)
    assert (told.check, told.level, told.where) == ("groove", Level.CAUTION, 'the check "groove"')
    assert told.what == f"it could not be made ({why}), so that nothing is known of what it asks"
    assert told.advice == "Answer it by hand: Does the groove hold it?"


@pytest.mark.parametrize("how", [LampError("lamp.toml", (Fault("eye", "is inside"),)), MemoryError()])
def test_what_no_check_can_do_without_is_no_finding(how: Exception) -> None:
    subject = subject_of(Layer("base", ASH, 10.0, circle(100.0)))
    with pytest.raises(type(how)):
        run_checks(subject, (failing(how),))


def test_whoever_waits_is_told_of_every_check_that_is_done() -> None:
    subject = subject_of(Layer("base", ASH, 10.0, circle(100.0)))
    told: list[object] = []

    @contextmanager
    def progress(label: str, total: int) -> Iterator[Callable[[int], None]]:
        told.append((label, total))
        yield told.append

    run_checks(subject, (check(), failing(ZeroDivisionError()), check()), progress=progress)
    assert told == [("checks", 3), 1, 1, 1]
