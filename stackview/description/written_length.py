"""Lengths as a maker writes them: decimals, fractions, feet and inches, metric; read exactly."""

import math
import re
from fractions import Fraction
from functools import lru_cache

from stackview.description.material import Length
from stackview.description.units import MM_PER_UNIT, SPELLINGS, TYPED_MARKS, Units, shown, unit_of, units_of

_LONGEST_TEXT = 40
"""Characters that one written length may have."""

_TWO_MEANINGS = {"mil", "mils", "thou", "thous"}
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_NUMBER = r"[0-9]+[ -]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+|[0-9]+\.?"
_ONE = re.compile(rf"(?P<sign>[+-]?) *(?P<number>{_NUMBER}) *(?P<unit>[^0-9 ./+-][^0-9 /]*)?")
_FEET_AND_INCHES = re.compile(
    rf"(?P<sign>[+-]?) *(?P<feet>{_NUMBER}) *(?:ft\.?|feet|foot|') *-? *(?P<inches>{_NUMBER}) *"
    r"(?:in\.?|inch|inches|\")?"
)
_NO_MINUS = "write it without the minus"
_HOW_TO = 'write a number, or a text such as "5.6 mm", "5-1/2 in", ".220 in" or "5 ft 6 in"'


class LengthError(ValueError):
    """A length that cannot be read or is out of its limits; the message is meant for the maker."""


class LimitError(LengthError):
    """A length that is out of its limits: the message offers the nearest one that is not.

    Where that is refused as well, or nobody has tried it, it must not be offered: :meth:`refused_too`
    and :meth:`untried` say instead what can be said.
    """

    def __init__(self, value: object, amiss: str, limit: str, words: str, advice: str) -> None:
        """``limit`` can be typed in for ``value``; ``words`` offer it."""
        super().__init__(f"{amiss}; {words}: {advice}")
        self.value, self.limit = value, limit
        self._amiss, self._advice = amiss, advice

    def refused_too(self, why: str) -> str:
        """The message where the limit, typed in, is refused for a reason of its own."""
        if self._advice == _NO_MINUS:
            return self.untried()
        return f"{self._amiss}, and {self.limit} is refused too: {why}"

    def untried(self) -> str:
        """The message without the limit."""
        return f"{self._amiss}: {self._advice}"


def read_length(
    value: object, unit: str, *, low: float | None = None, high: float | None = None, of: str = "a length"
) -> Length:
    """Read a length; a bare number counts in ``unit``.

    Parameters
    ----------
    value : number, or text such as ``"5.6 mm"``, ``"5-1/2 in"``, ``"1 1/8"`` or ``"5 ft 6 in"``
    unit : key of :data:`MM_PER_UNIT`
    low, high : least and greatest length allowed [mm], both included; ``of`` names the thing

    Returns
    -------
    Length
        exact to the last bit of a float of millimetres, with the text as written

    Raises
    ------
    LengthError
        not a length, not finite, "mil" and its kin, or outside ``low`` and ``high``

    >>> read_length("5-1/2 in", "mm").mm, read_length(0.742, "in").written
    (139.7, '0.742 in')
    """
    if isinstance(value, int | float | str) and value:
        return _read_once(value, unit, low, high, of)
    return _read(value, unit, low, high, of)


def _read(value: object, unit: str, low: float | None, high: float | None, of: str) -> Length:
    mm, written = _exact(value, unit)
    units = units_of(unit)
    if low is not None and mm < Fraction(str(low)):
        negative = mm < 0 <= low
        raise LimitError(
            value,
            f"{shown(value)} is {'negative' if negative else 'too small' + _comes_to(written, mm, units)}",
            units.alone.least(low),
            f"{of} is at least {units.least(low)}",
            _NO_MINUS if negative else "write a larger one",
        )
    if high is not None and mm > Fraction(str(high)):
        raise LimitError(
            value,
            f"{shown(value)} is too large{_comes_to(written, mm, units)}",
            units.alone.most(high),
            f"{of} is at most {units.most(high)}",
            "check the number and its unit",
        )
    if abs(mm) > 10**12:
        raise LengthError(f"{shown(value)} is too large for a length: check the number and its unit")
    return Length(mm=float(mm), written=written)


_read_once = lru_cache(maxsize=4096, typed=True)(_read)
"""Variants of a lamp write nearly all of its lengths again."""


def _comes_to(written: str, mm: Fraction, units: Units) -> str:
    """What a length comes to in the lamp's own unit, where it was not written in it."""
    if unit_of(written) == units.unit or abs(mm) > 10**9:
        return ""
    return f" ({written} is {units.plain(float(mm))})"


def _exact(value: object, unit: str) -> tuple[Fraction, str]:
    """Exact millimetres and the text shown for what was written."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise LengthError(f"{shown(value)} is not a length: {_HOW_TO}")
    if isinstance(value, str):
        return _exact_text(value, unit)
    if isinstance(value, float) and not math.isfinite(value):
        raise LengthError(f"{shown(value)} is not a finite length: {_HOW_TO}")
    # repr gives the decimal the maker wrote, so 0.1 in is exactly 2.54 mm
    number = Fraction(value) if isinstance(value, int) else Fraction(repr(value))
    return number * MM_PER_UNIT[unit], f"{shown(value)} {unit}"


def _exact_text(text: str, unit: str) -> tuple[Fraction, str]:
    if len(text) > _LONGEST_TEXT:
        raise LengthError(f"{shown(text)} is longer than {_LONGEST_TEXT} characters: {_HOW_TO}")
    plain = " ".join(text.translate(TYPED_MARKS).lower().split())
    for mark, fraction in _VULGAR.items():
        plain = plain.replace(mark, f" {fraction}").strip()
    plain = " ".join(plain.split())
    both = _FEET_AND_INCHES.fullmatch(plain)
    if both:
        total = (
            _number(both["feet"], text) * MM_PER_UNIT["ft"]
            + _number(both["inches"], text) * MM_PER_UNIT["in"]
        )
        return (-total if both["sign"] == "-" else total), text.strip()
    one = _ONE.fullmatch(plain)
    if one is None:
        comma = ' with a point for the decimals, "5.6 mm"' if re.search(r"[0-9],[0-9]", plain) else ""
        raise LengthError(f"{shown(text)} is not a length{': write it' + comma if comma else ': ' + _HOW_TO}")
    total = _number(one["number"], text) * MM_PER_UNIT[_unit(one["unit"], unit, text)]
    written = text.strip() if one["unit"] else f"{text.strip()} {unit}"
    return (-total if one["sign"] == "-" else total), written


def _unit(spelt: str | None, unit: str, text: str) -> str:
    if not spelt:
        return unit
    spelt = spelt.strip()
    if spelt in _TWO_MEANINGS:
        raise LengthError(
            f"{shown(text)}: {shown(spelt)} is refused, because the trade means both a thousandth of an "
            'inch and a millimetre by it: write ".220 in" or "5.6 mm"'
        )
    if spelt not in SPELLINGS:
        raise LengthError(f"{shown(text)}: no unit {shown(spelt)}: use mm, cm, m, in or ft")
    return SPELLINGS[spelt]


def _number(text: str, whole_text: str) -> Fraction:
    """``"1 1/8"``, ``"5-1/2"``, ``"3/16"``, ``".220"`` or ``"12"`` as an exact fraction."""
    parts = re.split(r"[ -]+", text)
    try:
        return sum((Fraction(part.rstrip(".")) for part in parts), Fraction(0))
    except ZeroDivisionError:
        raise LengthError(f"{shown(whole_text)} divides by zero: {_HOW_TO}") from None
