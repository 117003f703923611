"""The time that a lamp's glow may take: what it is spent on, and what is left out where it is short."""

import time
from collections.abc import Mapping

from stackview.commands.stopping import Stopped, asked_to_stop

RATIOS, LAMPLIGHT, LIGHT_OUT = "hot spots", "lamplight", "light out"
DAYLIGHT, PICTURES = "daylight", "pictures"
"""Pieces of the work; lamplight is that of pictures alone, which hot spots render along with theirs."""
_STARTING = 0.8
"""What Python takes before a command begins, and after its end [s]."""
_COSTS: Mapping[str, float] = {DAYLIGHT: 3.0, RATIOS: 6.0, LAMPLIGHT: 4.0, LIGHT_OUT: 1.0, PICTURES: 3.0}
"""What each piece takes at the least, over what making ready for pictures takes, as measured, and half as much again;
pictures without daylight, light out as far as it is not followed beside the others."""
_LEFT_OUT = (LIGHT_OUT, DAYLIGHT, PICTURES)
"""What is left out where the time is short, the first of them first; pictures never where they alone are asked for."""


class GlowLimit:
    """When everything is to be done, and whether somebody has asked for an end before that.

    begun : by the monotonic clock; longest : for everything [s]; keeps : whether what was rendered before Ctrl-C is
    to be told.
    """

    def __init__(self, begun: float, longest: float, keeps: bool) -> None:
        self._begun, self._longest, self._keeps = begun - _STARTING, longest, keeps

    @property
    def spent(self) -> float:
        """Since the program began [s]."""
        return time.monotonic() - self._begun

    @property
    def left(self) -> float:
        """Of the longest time, never under nought [s]."""
        return max(self._longest - self.spent, 0.0)

    def ended(self) -> bool:
        """Whether Ctrl-C has been pressed, and what was rendered before is to be kept."""
        return self._keeps and asked_to_stop() is Stopped.BY_KEY


def fitting(parts: tuple[str, ...], unit: float, left: float) -> tuple[str, ...]:
    """Those parts of the work that the time ``left`` [s] is enough for, ``unit`` [s] being what making ready took.

    >>> fitting(("daylight", "hot spots", "light out", "pictures"), 1.0, 60.0)
    ('daylight', 'hot spots', 'light out', 'pictures')
    >>> fitting(("daylight", "hot spots", "light out", "pictures"), 1.0, 12.0)
    ('daylight', 'hot spots', 'pictures')
    >>> fitting(("daylight", "hot spots", "light out", "pictures"), 1.0, 2.0)
    ('hot spots',)
    >>> fitting(("daylight", "lamplight", "pictures"), 1.0, 2.0)
    ('lamplight', 'pictures')
    """
    left_out = _LEFT_OUT if RATIOS in parts else (DAYLIGHT,)
    for gone in range(len(left_out) + 1):
        kept = tuple(part for part in parts if part not in left_out[:gone])
        if sum(_COSTS[part] for part in kept) * unit <= left:
            return kept
    return kept


def least_time(part: str, unit: float) -> float:
    """What a part of the work takes at the least [s], ``unit`` [s] being what making ready took."""
    return _COSTS[part] * unit
