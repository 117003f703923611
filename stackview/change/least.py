"""The least change that reaches a goal: printed steps until it holds, then halving between the last two."""

from collections.abc import Callable

GREATEST_CHANGE = 10.0
"""Changes are looked for up to this [mm]."""


def least_that_holds(holds: Callable[[int], bool], first: int, most: int) -> int | None:
    """A count of printed steps at which ``holds``, one past a count at which it does not; None where none is found.

    From ``first`` on the steps grow by half until the goal holds, up to ``most``; then halving. The
    goal need not hold further out, nor nearer: a mend is a value, never "at least".
    """
    short, step = 0, min(max(first, 1), most)
    while not holds(step):
        if step >= most:
            return None
        short, step = step, min(step + (step + 1) // 2, most)
    while step - short > 1:
        middle = (short + step) // 2
        short, step = (short, middle) if holds(middle) else (middle, step)
    return step
