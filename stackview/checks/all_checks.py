"""The table of checks, in the order in which a lamp is built."""

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
from stackview.checks.subject import Check

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
