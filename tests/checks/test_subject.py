"""Running checks sorts and does not repeat."""

from stackview.checks.subject import Check, run_checks
from stackview.description.lamp import Layer
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
