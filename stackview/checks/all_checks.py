"""The table of checks, in the order in which a lamp is built."""

from stackview.checks import (
    bought,
    cable,
    cautions,
    clash,
    cutter,
    glue,
    heat,
    heights,
    leaks,
    light_share,
    line_up,
    movement,
    order,
    repair,
    screws,
    seating,
    shown,
    standing,
    strip,
    supply,
    support,
    walls,
)
from stackview.checks.subject import Check
from stackview.findings import Finding, Level

# One line a check. Findings of one level come out in this order.
ALL_CHECKS: tuple[Check, ...] = (
    heights.CHECK,
    seating.CHECK,
    support.CHECK,
    clash.CHECK,
    bought.CHECK,
    cutter.CHECK,
    walls.CHECK,
    line_up.CHECK,
    screws.CHECK,
    leaks.CHECK,
    shown.CHECK,
    light_share.CHECK,
    glue.CHECK,
    movement.CHECK,
    strip.CHECK,
    order.CHECK,
    supply.CHECK,
    cable.CHECK,
    repair.CHECK,
    heat.CHECK,
    standing.CHECK,
    cautions.CHECK,
)


def names_of(checks: tuple[Check, ...] = ALL_CHECKS) -> tuple[str, ...]:
    """All that the checks' findings may be called."""
    return tuple(name for check in checks for name in (check.name, *check.also))


def passed(findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """Names of the checks that found neither fault nor caution."""
    failed = {finding.check for finding in findings if finding.level >= Level.CAUTION}
    return tuple(name for name in names_of(ALL_CHECKS) if name not in failed)
