"""The table of checks, in the order in which a lamp is built, and the running of them all."""

from dataclasses import replace

from stackview.checks import (
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
    seating,
    shown,
    standing,
    strip,
    supply,
    support,
    walls,
)
from stackview.checks.subject import Check, Subject
from stackview.findings import Finding

# One line a check. Findings of one level come out in this order.
ALL_CHECKS: tuple[Check, ...] = (
    heights.CHECK,
    seating.CHECK,
    support.CHECK,
    clash.CHECK,
    cutter.CHECK,
    walls.CHECK,
    line_up.CHECK,
    leaks.CHECK,
    shown.CHECK,
    light_share.CHECK,
    glue.CHECK,
    movement.CHECK,
    strip.CHECK,
    supply.CHECK,
    cable.CHECK,
    heat.CHECK,
    standing.CHECK,
    cautions.CHECK,
)


SIGHT_CHECKS: tuple[Check, ...] = (
    replace(seating.CHECK, run=seating.does_not_seat),
    clash.CHECK,
    shown.CHECK,
)
"""What a look at the sightlines alone has to report: a lamp that does not go together looks otherwise."""


def run_checks(subject: Subject, checks: tuple[Check, ...] = ALL_CHECKS) -> tuple[Finding, ...]:
    """Every finding of the checks, worst first, each once."""
    found: dict[Finding, None] = {}
    for check in checks:
        found.update(dict.fromkeys(check.run(subject)))
    return tuple(sorted(found, key=lambda finding: -finding.level))
