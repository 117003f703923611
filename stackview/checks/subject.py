"""What is checked: one lamp, assembled, lit and looked at, with the limits it is held against."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

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
    """What ``Finding.check`` says, e.g. "walls"; a check may have further words of its own there."""
    question: str
    formula: str
    source: str
    limits: tuple[str, ...]
    """Names of the limits that it holds the lamp against."""
    run: Callable[[Subject], tuple[Finding, ...]]


def run_checks(subject: Subject, checks: tuple[Check, ...]) -> tuple[Finding, ...]:
    """Every finding of the checks, worst first, otherwise in their order, each once."""
    found: dict[Finding, None] = {}
    for check in checks:
        found.update(dict.fromkeys(check.run(subject)))
    return tuple(sorted(found, key=lambda finding: -finding.level))
