"""What is checked: one lamp, assembled, lit and looked at, with the limits it is held against."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from stackview.checks.alike import told_together
from stackview.checks.limits import Limits
from stackview.description.lamp import Lamp
from stackview.findings import Finding
from stackview.light.layout import LightLayout
from stackview.sight.summary import Sightlines
from stackview.stack.assembly import Stack


class Subject(Protocol):
    """One lamp as every check takes it; a study is one."""

    @property
    def lamp(self) -> Lamp:
        """The lamp as described."""
        ...

    @property
    def stack(self) -> Stack:
        """Its parts where they stand."""
        ...

    @property
    def light(self) -> LightLayout:
        """Its light points where they are."""
        ...

    @property
    def sightlines(self) -> Sightlines:
        """What shows of them."""
        ...

    @property
    def limits(self) -> Limits:
        """What it is held against."""
        ...


@dataclass(frozen=True, slots=True)
class Check:
    """One check as it stands in the table of checks: what it asks, by what formula, on whose word."""

    name: str
    """What ``Finding.check`` says, e.g. "walls"."""
    question: str
    formula: str
    source: str
    limits: tuple[str, ...]
    """Names of the limits that it holds the lamp against."""
    run: Callable[[Subject], tuple[Finding, ...]]
    also: tuple[str, ...] = ()
    """What else ``Finding.check`` may say, where a check answers several questions."""


def run_checks(subject: Subject, checks: tuple[Check, ...]) -> tuple[Finding, ...]:
    """Every finding of the checks, worst first and facts last, otherwise in their order; one for each cause."""
    found = told_together(
        (finding for check in checks for finding in check.run(subject)), subject.lamp.layers
    )
    return tuple(sorted(found, key=lambda finding: -finding.level))
