"""What is checked: one lamp, assembled, lit and looked at, with the limits it is held against."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Protocol

from stackview.checks.alike import told_together
from stackview.checks.limits import Limits
from stackview.description.lamp import Lamp
from stackview.errors import LampError, SolidError
from stackview.findings import Finding, Level
from stackview.light.layout import LightLayout
from stackview.one_line import clipped
from stackview.sight.summary import Progress, Sightlines, unseen
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
    asks_sight: bool = False
    """Whether it asks what shows."""
    grave: Callable[[Subject], tuple[Finding, ...]] | None = None
    """Those of its findings that may be cautions or faults, where its notes and facts cost much more; else all are."""


def grave_findings(subject: Subject, check: Check) -> tuple[Finding, ...]:
    """As :func:`run_checks` of one check, but that notes and facts may be left out."""
    return run_checks(subject, (check if check.grave is None else replace(check, run=check.grave),))


def run_checks(
    subject: Subject,
    checks: tuple[Check, ...],
    made: Mapping[str, tuple[Finding, ...]] = MappingProxyType({}),
    progress: Progress = unseen,
) -> tuple[Finding, ...]:
    """Every finding of the checks, worst first and facts last, otherwise in their order; one for each cause.

    What :func:`found_by` gave of checks that are ``made`` already, by their names, is taken as it is.
    A check that cannot be made says so in a finding of its own, and the others are made all the same.
    Raises LampError where the lamp cannot be built or looked at.
    """
    every: list[Finding] = []
    with progress("checks", len(checks)) as step:
        for check in checks:
            every += made[check.name] if check.name in made else found_by(check, subject)
            step(1)
    found = told_together(every, subject.lamp.layers)
    return tuple(sorted(found, key=lambda finding: -finding.level))


def found_by(check: Check, subject: Subject) -> tuple[Finding, ...]:
    """What one check finds, as it finds it; or that it could not be made."""
    try:
        return check.run(subject)
    except (LampError, MemoryError):
        raise
    except SolidError as error:
        why = f"{error.field}: {error.said(subject.lamp.units)}"
    except Exception as error:
        why = f"a fault of stackview's own, {type(error).__name__}: {clipped(' '.join(str(error).split()))}"
    return (
        Finding(
            check=check.name,
            level=Level.CAUTION,
            where=f'the check "{check.name}"',
            what=f"it could not be made ({why}), so that nothing is known of what it asks",
            advice=f"Answer it by hand: {check.question}",
            is_made=False,
        ),
    )
