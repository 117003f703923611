"""The least change that reaches a goal: steps until it holds, bisection inside the bracket, the printed step last."""

from collections.abc import Callable

from stackview.change.printed import Printed, Steps

GREATEST_CHANGE = 10.0
"""Changes are looked for up to this [mm]."""
_GROWING = 1.5
BISECTED_TO = 0.01
"""Bisected to this [mm]: finer than any printed step."""
_MORE_STEPS = 12
"""Printed steps that are added, at most, until the goal is confirmed."""


def bracketed(
    holds: Callable[[float], bool],
    now: float,
    towards: int,
    first: float,
    most: float = GREATEST_CHANGE,
    fine: float = BISECTED_TO,
) -> float | None:
    """A value at which ``holds``, no more than ``fine`` past one at which it does not; None where none is found.

    Steps away from ``now`` grow by half until the goal holds; then the last of them is halved. The
    goal need not hold further out, nor nearer: a mend is a value, never "at least".
    """
    short, step = 0.0, min(first, most)
    while not holds(now + towards * step):
        if step >= most:
            return None
        short, step = step, min(step * _GROWING, most)
    while step - short > fine:
        middle = (short + step) / 2.0
        short, step = (short, middle) if holds(now + towards * middle) else (middle, step)
    return now + towards * step


def confirmed(
    holds: Callable[[Printed], bool], steps: Steps, now: float, value: float, towards: int
) -> Printed | None:
    """The printed number at ``value`` or the next ones past it, that ``holds``; None after a dozen."""
    count = steps.beyond(value, towards)
    for more in range(_MORE_STEPS):
        each = steps.at(count + towards * more)
        if (each.mm - now) * towards > 1e-9 and holds(each):
            return each
    return None
