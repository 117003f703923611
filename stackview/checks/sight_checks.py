"""The few checks that a look at the sightlines alone has to report, without the others being imported."""

from dataclasses import replace

from stackview.checks import clash, seating, shown, support
from stackview.checks.subject import Check

SIGHT_CHECKS: tuple[Check, ...] = (
    replace(seating.CHECK, run=seating.does_not_seat),
    support.CHECK,
    clash.CHECK,
    shown.CHECK,
)
"""A lamp that does not go together looks otherwise."""
