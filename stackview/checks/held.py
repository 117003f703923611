"""Whether a number keeps to its limit. At the limit is within it, and a number counts as it is said.

What is said to hundredths is compared to hundredths: a wall of 5.996 mm is said as 6 mm, and
keeps a limit of 6 mm. So no finding ever holds a number against the same number.
"""

_HUNDREDTH, TENTH, WHOLE_NUMBER = 0.01, 0.1, 1.0
"""Last place to which numbers are said: lengths, currents and shares; angles and per cent; degrees Celsius."""


def over(value: float, most: float, said_to: float = _HUNDREDTH) -> bool:
    """Whether a value is past the most that it may be.

    >>> over(3.0, 3.0), over(3.004, 3.0), over(3.01, 3.0), over(60.4, 60.0, WHOLE_NUMBER)
    (False, False, True, False)
    """
    return value - most > said_to / 2.0


def under(value: float, least: float, said_to: float = _HUNDREDTH) -> bool:
    """Whether a value is short of the least that it has to be.

    >>> under(6.0, 6.0), under(5.996, 6.0), under(5.99, 6.0), under(14.96, 15.0, TENTH)
    (False, False, True, False)
    """
    return over(least, value, said_to)
