"""A lamp's file taken all the way to its sightlines, as every command needs it."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from stackview.checks.all_checks import ALL_CHECKS, run_checks
from stackview.checks.limits import limits_for
from stackview.checks.subject import Check, Subject
from stackview.commands.progress import progress
from stackview.description.lamp import Lamp
from stackview.description.limits_table import Limit
from stackview.description.reading import read_lamp
from stackview.errors import LampError
from stackview.findings import Finding, Level
from stackview.light.layout import LightLayout, lay_out
from stackview.sight.summary import Sightlines, sightlines, steps
from stackview.stack.assembly import Stack, assemble


@dataclass(frozen=True, slots=True, eq=False)
class Studied:
    """Everything known about one lamp."""

    lamp: Lamp
    stack: Stack
    light: LightLayout
    lines: Sightlines
    findings: tuple[Finding, ...]

    def worst_at_least(self, level: Level | None) -> bool:
        """Whether some finding is at or above a level."""
        return level is not None and any(finding.level >= level for finding in self.findings)


def study(
    file: Path,
    *,
    allow_outside: bool = False,
    checks: tuple[Check, ...] = ALL_CHECKS,
    faces: bool = True,
    own_limits: Mapping[str, Limit] | None = None,
) -> Studied:
    """Read, assemble, light, look and check: raises LampError naming the file for all that is wrong in it.

    Findings need only the middles of light points: without ``faces``, nothing is said of corners.
    """
    lamp = read_lamp(file, allow_outside=allow_outside)
    try:
        stack = assemble(lamp)
        light = lay_out(stack)
    except LampError as error:
        raise LampError(str(file), error.faults) from None
    with progress(f"sightlines of {len(light.points)} light points", steps(stack, light.points)) as step:
        points = light.points if faces else light.points.middles()
        lines = sightlines(stack, points, progress=step)
    subject = Subject(lamp, stack, light, lines, limits_for(lamp, own_limits))
    return Studied(lamp, stack, light, lines, run_checks(subject, checks))
