"""What is checked: one lamp, assembled, lit and looked at, with the limits it is held against."""

from collections.abc import Callable
from dataclasses import dataclass

from stackview.checks.limits import Limits
from stackview.description.lamp import Lamp
from stackview.findings import Finding
from stackview.light.layout import LightLayout
from stackview.sight.summary import Sightlines
from stackview.stack.assembly import Stack


@dataclass(frozen=True, slots=True, eq=False)
class Subject:
    """One lamp as every check takes it."""

    lamp: Lamp
    stack: Stack
    light: LightLayout
    lines: Sightlines
    limits: Limits


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
