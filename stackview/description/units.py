"""Units of length, and how a lamp's lengths are said: kept exact until shown, its own unit first.

1 in = 25.4 mm and 1 ft = 12 in exactly (international yard and pound agreement of 1959).
"""

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol

from stackview.description.material import Length

UnitName = Literal["mm", "cm", "in", "ft", "m"]
"""A unit that a lamp's file may name."""
MM_PER_UNIT: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}
"""Exact millimetres in each unit that a lamp's file may name."""

_INCH = float(MM_PER_UNIT["in"])
"""Millimetres in an inch."""

SPELLINGS = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("ft", "ft.", "foot", "feet", "'"), "ft"),
}
"""The unit that each spelling means."""
TYPED_MARKS = str.maketrans(
    {"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‑": "-", "–": "-", "−": "-", "⁄": "/"}
)
"""Typeset marks and the plain ones that they stand for."""


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


class Rounding(Protocol):
    """Rounds a value to a number of decimal places."""

    def __call__(self, value: float, places: int, /) -> float:
        """Give the rounded value."""


@dataclass(frozen=True, slots=True)
class Units:
    """How the lengths of one lamp are said: in its own unit first, everywhere.

    ``unit`` is the lamp's own (a key of :data:`MM_PER_UNIT`), ``beside`` whether the other
    system is given in brackets. A lamp in feet has feet and inches, and inches alone under a
    foot; one in metres has millimetres under 100 mm. Inches are fractions where the length is
    one, to 1/64, ten-thousandths where it is whole ones, and thousandths otherwise: .742 in is no
    47/64, and .1245 in is no .125.
    """

    unit: str = "mm"
    beside: bool = False

    @property
    def in_inches(self) -> bool:
        """Whether the own unit is the inch or the foot."""
        return self.unit in ("in", "ft")

    @property
    def other(self) -> "Units":
        """The other system alone: inches for a metric lamp, millimetres for one in inches or feet."""
        return Units("mm" if self.in_inches else "in")

    @property
    def alone(self) -> "Units":
        """The same unit with nothing in brackets."""
        return Units(self.unit)

    def asked(self, wanted: str | None) -> "Units":
        """What a maker asks of a drawing: "mm" or "in" alone, "both", or nothing and so the lamp's way.

        >>> Units("in", True).asked("mm"), Units("cm").asked("both"), Units("cm").asked(None)
        (Units(unit='mm', beside=False), Units(unit='cm', beside=True), Units(unit='cm', beside=False))
        """
        if wanted in ("mm", "in"):
            return Units(wanted)
        return Units(self.unit, beside=True) if wanted == "both" else self

    def mm(self, number: float) -> float:
        """Millimetres of a number that counts in the own unit.

        >>> Units("in").mm(10.0), Units("ft").mm(1.0)
        (254.0, 304.8)
        """
        return float(Fraction(number) * MM_PER_UNIT[self.unit])

    def show(self, length: float | Length) -> str:
        """A length [mm] for a sentence. One kept as written is shown so, if in the own unit.

        >>> Units("mm").show(17.4), Units("in", True).show(139.7), Units("in", True).show(0.254)
        ('17.4 mm', '5-1/2 in (139.7 mm)', '0.010 in (0.25 mm)')
        >>> Units("in", True).show(18.8468), Units("ft").show(1676.4), Units("cm").show(17.4)
        ('0.742 in (18.85 mm)', '5 ft 6 in', '1.74 cm')
        """
        if isinstance(length, Length):
            own = length.written if self._is_own(length) else self.plain(length.mm)
            return self._with(own, self.other.plain(length.mm))
        return self._with(self.plain(length), self.other.plain(length))

    def plain(self, mm: float) -> str:
        """A length in the own unit alone.

        >>> Units("in").plain(139.7), Units("in").plain(1500.0), Units("ft").plain(152.4)
        ('5-1/2 in', '59.055 in', '6 in')
        """
        return self._said(mm, _nearest)[0]

    def small(self, mm: float) -> str:
        """An amount of which hundredths say too little: to 0.001 mm, and 0.0001 mm under a tenth.

        >>> Units("mm").small(0.0043), Units("in", True).small(0.0127), Units("mm").small(36.0557)
        ('0.0043 mm', '0.0005 in (0.0127 mm)', '36.056 mm')
        """
        places = 3 if abs(mm) >= 0.1 else 4
        metric, inches = f"{mm:.{places}f}", f"{mm / _INCH:.{places + 1}f}"
        metric, inches = (f"{text.rstrip('0').rstrip('.')}" for text in (metric, inches))
        return self._with(
            *((f"{inches} in", f"{metric} mm") if self.in_inches else (f"{metric} mm", f"{inches} in"))
        )

    def settled(self, mm: float) -> float:
        """A length [mm] of a drawn curve, which drawings give a hair off: what of it is sure.

        Tenths of a millimetre; in inches the 64th that it is as good as, or else hundredths.

        >>> Units("mm").settled(139.68), Units("in").settled(139.68), Units("in").settled(139.5)
        (139.7, 139.7, 139.446)
        """
        if not self.in_inches:
            return round(mm, 1)
        fraction = round(mm / _INCH * 64.0) / 64.0 * _INCH
        return fraction if abs(fraction - mm) <= 0.05 else round(round(mm / _INCH, 2) * _INCH, 6)

    def round_length(self, most: float) -> float:
        """The longest round length that is not over ``most`` [mm], for the bar of a scale.

        >>> Units("mm").round_length(37.0), Units("in").round_length(37.0), Units("ft").round_length(700.0)
        (20.0, 25.4, 609.6)
        """
        steps: tuple[float, ...] = (1.0, 2.0, 5.0)
        if self.in_inches and most < 10.0 * _INCH:
            steps, of = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 48.0, 96.0), _INCH / 16.0
            return max(step * of for step in steps if step * of <= most)
        of = 304.8 if self.unit == "ft" and most >= 304.8 else _INCH if self.in_inches else 1.0
        power = 10.0 ** math.floor(math.log10(most / of) + 1e-9)
        return max(step * power * of for step in steps if step * power * of <= most * (1.0 + 1e-9))

    def short(self, length: float | Length) -> str:
        """A length for tables: as written if in the own unit, else inches as a caliper shows them.

        >>> Units("mm").short(17.4), Units("in").short(18.8468), Units("in").short(Length(12.7, ".500 in"))
        ('17.4 mm', '0.742 in', '.500 in')
        """
        if isinstance(length, Length) and self._is_own(length):
            return length.written
        mm = length.mm if isinstance(length, Length) else length
        return _trimmed_inches(mm, feet=self.unit == "ft") if self.in_inches else self.plain(mm)

    def rough(self, mm: float) -> str:
        """A length that changes while one looks: whole millimetres from 100 on, or eighths of an inch.

        >>> Units("mm").rough(1234.56), Units("mm").rough(12.34), Units("in").rough(1524.0)
        ('1235 mm', '12.3 mm', '60 in')
        """
        if self.in_inches:
            return _inch_words(round(mm / _INCH * 8), 8, feet=self.unit == "ft")
        return _metric(round(mm, 0 if abs(mm) >= 100 else 1), self.unit, _nearest)[0]

    def run(self, mm: float) -> str:
        """A length of cord or cable, as it is sold: metres, or feet and whole inches.

        >>> Units("mm").run(1500.0), Units("in", True).run(1500.0), Units("ft").run(3048.0)
        ('1.5 m', '4 ft 11 in (1.5 m)', '10 ft')
        """
        metres, feet = f"{mm / 1000.0:.6g} m", _inch_words(round(mm / _INCH), 1, feet=True)
        return self._with(feet, metres) if self.in_inches else self._with(metres, feet)

    def least(self, mm: float) -> str:
        """A least length, rounded up so that it still is enough when it is typed in as shown.

        >>> Units("mm").least(1.234), Units("in", True).least(1.658), Units("ft").least(306.2)
        ('1.24 mm', '0.066 in (1.68 mm)', '1 ft 0.056 in')
        """
        return self._bound(mm, _up)

    def most(self, mm: float) -> str:
        """A greatest length, rounded down for the same reason.

        >>> Units("mm").most(3.039), Units("in", True).most(3.039), Units("in", True).most(2000.0)
        ('3.03 mm', '0.119 in (3.02 mm)', '78.740 in (2000 mm)')
        """
        return self._bound(mm, _down)

    def at(self, x: float, y: float, z: float | None = None) -> str:
        """A place from the lamp's axis and foot.

        >>> Units("in", True).at(38.1, 19.05), Units("mm").at(1.0, -0.001, 20.0)
        ('x 1-1/2 in, y 3/4 in', 'x 1 mm, y 0 mm, z 20 mm')
        """
        places = {"x": x, "y": y} if z is None else {"x": x, "y": y, "z": z}
        return ", ".join(f"{name} {self.plain(value)}" for name, value in places.items())

    def span(self, *lengths: float) -> str:
        """Several lengths for a width by a depth by a height.

        >>> Units("in", True).span(38.1, 19.05), Units("mm").span(100.0, 50.0)
        ('1-1/2 in × 3/4 in (38.1 mm × 19.05 mm)', '100 mm × 50 mm')
        """
        own, other = (" × ".join(each.plain(mm) for mm in lengths) for each in (self, self.other))
        return self._with(own, other)

    def area(self, mm2: float) -> str:
        """An area [mm²].

        >>> Units("mm").area(12.0), Units("in", True).area(64.516), Units("cm").area(2450.0)
        ('12.00 mm²', '0.1 in² (64.52 mm²)', '24.5 cm²')
        >>> Units("in").area(0.045), Units("in").area(0.0)
        ('0.0000698 in²', '0 in²')
        """
        if mm2 < 100.0:
            return self._power(mm2, 2, "²")
        metric, inches = f"{mm2 / 100.0:.1f} cm²", f"{mm2 / _INCH**2:.2f} in²"
        return self._with(inches, metric) if self.in_inches else self._with(metric, inches)

    def volume(self, mm3: float) -> str:
        """A volume [mm³].

        >>> Units("mm").volume(12.0), Units("in", True).volume(1638.7064)
        ('12.00 mm³', '0.1 in³ (1638.71 mm³)')
        """
        return self._power(mm3, 3, "³")

    def _power(self, amount: float, power: int, mark: str) -> str:
        found = amount / _INCH**power
        # three figures, and never as a power of ten
        places = max(2 - math.floor(math.log10(found)), 0) if found > 0.0 else 0
        told = f"{found:.{places}f}"
        metric = f"{amount:.2f} mm{mark}"
        inches = f"{told.rstrip('0').rstrip('.') if places else told} in{mark}"
        return self._with(inches, metric) if self.in_inches else self._with(metric, inches)

    def _is_own(self, length: Length) -> bool:
        """Whether a length is written in the own unit, or in inches for feet and the other way round."""
        written = Units(unit_of(length.written))
        return written.unit == self.unit or (written.in_inches and self.in_inches)

    def _with(self, own: str, other: str) -> str:
        return f"{own} ({other})" if self.beside else own

    def _said(self, mm: float, turned: Rounding) -> tuple[str, float]:
        """The words and the millimetres that they mean."""
        if self.in_inches:
            return _inches(mm, turned, feet=self.unit == "ft")
        return _metric(mm, self.unit, turned)

    def _bound(self, mm: float, turned: Rounding) -> str:
        own, meant = self._said(mm, turned)
        # a limit that is given in whole hundredths is said as it is; else both mean one length
        whole = abs(mm * 100.0 - round(mm * 100.0)) < 1e-6
        return self._with(own, self.other._said(mm if whole else meant, turned)[0])


MILLIMETRES = Units("mm")
"""Millimetres alone: for what knows no lamp."""


def units_of(unit: str) -> Units:
    """How a lamp written in ``unit`` is shown: its own unit first, millimetres beside inches and feet.

    The one place that decides what comes first and what stands in brackets.

    >>> units_of("in"), units_of("cm")
    (Units(unit='in', beside=True), Units(unit='cm', beside=False))
    """
    return Units(unit, beside=unit in ("in", "ft"))


def _nearest(value: float, places: int) -> float:
    return round(value, places)


def _up(value: float, places: int) -> float:
    return math.ceil(value * 10.0**places - 1e-6) / 10.0**places


def _down(value: float, places: int) -> float:
    return math.floor(value * 10.0**places + 1e-6) / 10.0**places


def _metric(mm: float, unit: str, turned: Rounding) -> tuple[str, float]:
    """To 0.01 mm, without idle zeros; metres only from 100 mm on."""
    meant = turned(mm, 2)
    if meant == 0.0 and turned is not _nearest:
        meant = turned(mm, 4)
    unit = "mm" if unit == "m" and abs(meant) < 100.0 else unit
    text = f"{meant / float(MM_PER_UNIT[unit]):.{ {'mm': 4, 'cm': 5, 'm': 7}[unit] }f}".rstrip("0").rstrip(
        "."
    )
    return f"{'0' if text == '-0' else text} {unit}", meant


def _is_whole(number: float) -> bool:
    """Whether a number is a whole one but for what floating point does to it."""
    return abs(number - round(number)) < 1e-6


def _inches(mm: float, turned: Rounding, *, feet: bool) -> tuple[str, float]:
    """The fraction that a length is, to 1/64, or thousandths; small amounts in ten-thousandths."""
    inch = mm / _INCH
    # a bound that is not quite a fraction may not be said as one
    if abs(inch * 64.0 - round(inch * 64.0)) < (1e-4 if turned is _nearest else 2e-6):
        parts, per = round(inch * 64.0), 64
    elif _is_whole(inch * 10000.0):
        parts, per = round(inch * 10000.0), 10000
    else:
        parts, per = round(turned(inch, 3) * 1000), 1000
        if abs(parts) <= 1 and abs(mm) > 0.004:
            parts, per = round(turned(inch, 4) * 10000), 10000
    return _inch_words(parts, per, feet=feet), parts / per * _INCH


def _inch_words(parts: int, per: int, *, feet: bool) -> str:
    """So many parts of an inch, a fraction where they are 64ths or coarser."""
    sign, left, words = "-" if parts < 0 else "", abs(parts), []
    if feet and left >= 12 * per:
        whole, left = divmod(left, 12 * per)
        words.append(f"{whole} ft")
    if left and per > 64:
        words.append(f"{left / per:.{3 if left * 1000 % per == 0 else 4}f} in")
    elif left or not words:
        whole, rest = divmod(left, per)
        part = Fraction(rest, per)
        fraction = f"{part.numerator}/{part.denominator}" if part else ""
        words.append(f"{'-'.join(filter(None, (str(whole or ''), fraction))) or '0'} in")
    return sign + " ".join(words)


def _trimmed_inches(mm: float, *, feet: bool) -> str:
    """Inches to three places, four where they are whole ten-thousandths, without idle zeros."""
    per = 10000 if _is_whole(mm / _INCH * 10000.0) else 1000
    parts = round(mm / _INCH * per)
    feet_there, left = divmod(abs(parts), 12 * per) if feet else (0, abs(parts))
    inches = f"{left / per:.4f}".rstrip("0").rstrip(".") + " in"
    words = ([f"{feet_there} ft"] if feet_there else []) + ([inches] if left or not feet_there else [])
    return ("-" if parts < 0 else "") + " ".join(words)


def unit_of(written: str) -> str:
    """The unit that a length is written in, by its end; nothing where it ends in a figure."""
    end = re.search(r"[^0-9 ./+-]+\.?$", written.translate(TYPED_MARKS).lower().strip())
    return SPELLINGS.get(end[0], "") if end else ""
