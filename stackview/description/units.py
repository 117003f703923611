"""Lengths as a maker writes them: decimals, fractions, feet and inches, metric; kept exact until shown.

1 in = 25.4 mm and 1 ft = 12 in exactly (international yard and pound agreement of 1959).
"""

import math
import re
from fractions import Fraction

from stackview.description.material import Length

MM_PER_UNIT: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}
"""Exact millimetres in each unit that a lamp's file may name."""

LONGEST_TEXT = 40
"""Characters that one written length may have."""

_SPELLINGS = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("ft", "ft.", "foot", "feet", "'"), "ft"),
}
_TWO_MEANINGS = {"mil", "mils", "thou", "thous"}
_MARKS = str.maketrans(
    {"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‑": "-", "–": "-", "−": "-", "⁄": "/"}
)
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_NUMBER = r"[0-9]+[ -]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+|[0-9]+\.?"
_ONE = re.compile(rf"(?P<sign>[+-]?) *(?P<number>{_NUMBER}) *(?P<unit>[^0-9 ./+-][^0-9 /]*)?")
_FEET_AND_INCHES = re.compile(
    rf"(?P<sign>[+-]?) *(?P<feet>{_NUMBER}) *(?:ft\.?|feet|foot|') *-? *(?P<inches>{_NUMBER}) *"
    r"(?:in\.?|inch|inches|\")?"
)
HOW_TO = 'write a number, or a text such as "5.6 mm", "5-1/2 in", ".220 in" or "5 ft 6 in"'


class LengthError(ValueError):
    """A length that cannot be read or is out of its limits; the message is meant for the maker."""


def shown(value: object, most: int = 40) -> str:
    r"""A value as the maker wrote it, printable and cut to ``most`` characters, for messages.

    >>> shown("kelp\n"), shown(True), shown(3.5)
    ('"kelp?"', 'true', '3.5')
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    if isinstance(value, int) and abs(value) >= 10**most:
        return "a number of more than 40 figures"
    text = "".join(c if c.isprintable() else "?" for c in str(value)[: 4 * most])
    text = text if len(text) <= most else text[: most - 1] + "…"
    return f'"{text}"' if isinstance(value, str) else text


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
    mm, written = _exact(value, unit)
    bound = LengthError
    if low is not None and mm < Fraction(str(low)):
        if mm < 0 <= low:
            raise bound(
                f"{shown(value)} is negative; {of} is at least {show_mm(low)}: write it without the minus"
            )
        raise bound(
            f"{shown(value)} is too small{_in_mm(written, mm)}; {of} is at least {show_mm(low, 4)}: write a larger one"
        )
    if high is not None and mm > Fraction(str(high)):
        raise bound(
            f"{shown(value)} is too large{_in_mm(written, mm)}; {of} is at most {show_mm(high)}: "
            "check the number and its unit"
        )
    if abs(mm) > 10**12:
        raise bound(f"{shown(value)} is too large for a length: check the number and its unit")
    return Length(mm=float(mm), written=written)


def _in_mm(written: str, mm: Fraction) -> str:
    """What a length comes to in millimetres, where it was not written in them."""
    return "" if written.endswith("mm") or abs(mm) > 10**9 else f" ({written} is {show_mm(float(mm))})"


def _exact(value: object, unit: str) -> tuple[Fraction, str]:
    """Exact millimetres and the text shown for what was written."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise LengthError(f"{shown(value)} is not a length: {HOW_TO}")
    if isinstance(value, str):
        return _exact_text(value, unit)
    if isinstance(value, float) and not math.isfinite(value):
        raise LengthError(f"{shown(value)} is not a finite length: {HOW_TO}")
    # repr gives the decimal the maker wrote, so 0.1 in is exactly 2.54 mm
    number = Fraction(value) if isinstance(value, int) else Fraction(repr(value))
    return number * MM_PER_UNIT[unit], f"{shown(value)} {unit}"


def _exact_text(text: str, unit: str) -> tuple[Fraction, str]:
    if len(text) > LONGEST_TEXT:
        raise LengthError(f"{shown(text)} is longer than {LONGEST_TEXT} characters: {HOW_TO}")
    plain = " ".join(text.translate(_MARKS).lower().split())
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
        raise LengthError(f"{shown(text)} is not a length{': write it' + comma if comma else ': ' + HOW_TO}")
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
    if spelt not in _SPELLINGS:
        raise LengthError(f"{shown(text)}: no unit {shown(spelt)}: use mm, cm, m, in or ft")
    return _SPELLINGS[spelt]


def _number(text: str, whole_text: str) -> Fraction:
    """``"1 1/8"``, ``"5-1/2"``, ``"3/16"``, ``".220"`` or ``"12"`` as an exact fraction."""
    parts = re.split(r"[ -]+", text)
    try:
        return sum((Fraction(part.rstrip(".")) for part in parts), Fraction(0))
    except ZeroDivisionError:
        raise LengthError(f"{shown(whole_text)} divides by zero: {HOW_TO}") from None


def show_mm(mm: float, places: int = 2) -> str:
    """Millimetres for showing, without idle zeros.

    >>> show_mm(17.4), show_mm(100), show_mm(3.14159)
    ('17.4 mm', '100 mm', '3.14 mm')
    """
    text = f"{mm:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{'0' if text == '-0' else text} mm"


def show_inches(mm: float, denominator: int = 64) -> str:
    """The nearest inch fraction for showing, e.g. on a rule divided into 64ths.

    >>> show_inches(139.7), show_inches(4.7625), show_inches(-12.7), show_inches(0)
    ('5-1/2 in', '3/16 in', '-1/2 in', '0 in')
    """
    parts = round(Fraction(abs(mm)) / MM_PER_UNIT["in"] * denominator)
    whole, rest = divmod(parts, denominator)
    fraction = Fraction(rest, denominator)
    sign = "-" if mm < 0 and parts else ""
    if not fraction:
        return f"{sign}{whole} in"
    return f"{sign}{f'{whole}-' if whole else ''}{fraction.numerator}/{fraction.denominator} in"


def show(mm: float, unit: str) -> str:
    """A length as the lamp's own unit has it: millimetres, or inches with millimetres beside.

    Less than 1/16 in is shown in thousandths, for a fraction would say too little.

    >>> show(17.4, "mm"), show(139.7, "in"), show(0.254, "in")
    ('17.4 mm', '5-1/2 in (139.7 mm)', '0.010 in (0.25 mm)')
    """
    return f"{inches(mm)} ({show_mm(mm)})" if unit in ("in", "ft") else show_mm(mm)


def inches(mm: float) -> str:
    """Inches for showing: the nearest 1/64, or thousandths where less than 1/16 in.

    >>> inches(139.7), inches(0.254)
    ('5-1/2 in', '0.010 in')
    """
    inch = float(MM_PER_UNIT["in"])
    return f"{mm / inch:.3f} in" if 0.0 < abs(mm) < inch / 16.0 else show_inches(mm)


def show_short(mm: float, unit: str) -> str:
    """The same for tables, in one unit alone: inches to three places, as a caliper shows them.

    >>> show_short(17.4, "mm"), show_short(18.8468, "in"), show_short(25.4, "in")
    ('17.4 mm', '0.742 in', '1 in')
    """
    if unit not in ("in", "ft"):
        return show_mm(mm)
    text = f"{mm / float(MM_PER_UNIT['in']):.3f}".rstrip("0").rstrip(".")
    return f"{'0' if text == '-0' else text} in"


def show_least(mm: float, unit: str) -> str:
    """A least length, rounded up so that it still is enough when it is typed in as shown.

    >>> show_least(1.234, "mm"), show_least(1.658, "in")
    ('1.24 mm', '0.066 in (1.68 mm)')
    """
    if unit not in ("in", "ft"):
        return show_mm(math.ceil(mm * 100.0 - 1e-6) / 100.0)
    inch = float(MM_PER_UNIT["in"])
    thousandths = math.ceil(mm / inch * 1000.0 - 1e-6) / 1000.0
    return f"{thousandths:.3f} in ({show_mm(thousandths * inch)})"


def show_most(mm: float, unit: str) -> str:
    """A greatest length, rounded down for the same reason.

    >>> show_most(3.039, "mm"), show_most(3.039, "in")
    ('3.03 mm', '0.119 in (3.02 mm)')
    """
    if unit not in ("in", "ft"):
        return show_mm(math.floor(mm * 100.0 + 1e-6) / 100.0)
    inch = float(MM_PER_UNIT["in"])
    thousandths = math.floor(mm / inch * 1000.0 + 1e-6) / 1000.0
    return f"{thousandths:.3f} in ({show_mm(thousandths * inch)})"
