"""Numbers as a maker can set and read them: the steps in which a mend is told, and typed into the file."""

import math
from dataclasses import dataclass
from fractions import Fraction

from stackview.description.units import MM_PER_UNIT, Units, unit_of

_STEP = Fraction(1, 10)
"""What a metric maker sets [mm]; fits twice as fine."""
_FIT = Fraction(1, 20)
_RUN = Fraction(10)
"""Lengths of cable go by centimetres, or by inches."""


Typed = float | str | tuple[float | str, ...] | None
"""What is written at a path of the file: a number, a text, true or false, several of them in a list; None for nothing."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A length as it is told and typed: the same number in all three."""

    mm: float
    """[mm]; the number itself where it is no length."""
    typed: "Typed"
    """What to write in the file."""
    text: str
    """The words for it, in the lamp's own unit."""


@dataclass(frozen=True, slots=True)
class Steps:
    """The steps in which one number of a lamp's file can be set.

    Millimetres go by 0.1, fits by 0.05; inches by 1/64 where the number was a fraction, and by
    thousandths where it was a decimal.
    """

    step: Fraction
    """[mm], exact."""
    unit: str
    """The unit in which it is typed."""
    bare: bool
    """Whether a number alone means that unit in the file."""
    units: Units
    run: bool = False
    """Whether it is a length of cable, which is said in metres or feet."""

    def at(self, count: int) -> Printed:
        """The length of so many steps."""
        mm, typed = self.number(count)
        return Printed(mm, typed, self.said(mm))

    def said(self, mm: float) -> str:
        """A length [mm] in words."""
        return self.units.run(mm) if self.run else self.units.show(mm)

    def number(self, count: int) -> tuple[float, float | str]:
        """The length of so many steps [mm], and what to type for it."""
        mm = float(self.step * count)
        number = float(self.step * count / MM_PER_UNIT[self.unit])
        if self.unit in ("in", "ft") and self._is_fraction:
            typed: float | str = Units("in").plain(mm)
        elif self.unit == "ft" or not self.bare:
            unit = "in" if self.unit == "ft" else self.unit
            typed = f"{float(self.step * count / MM_PER_UNIT[unit]):.6g} {unit}"
        else:
            typed = round(number, 6)
        return mm, typed

    def beyond(self, mm: float, towards: int) -> int:
        """The first count of steps that is at ``mm`` or past it, upwards (+1) or downwards (-1)."""
        share = Fraction(mm).limit_denominator(10**9) / self.step
        return (
            math.ceil(share - Fraction(1, 10**6)) if towards > 0 else math.floor(share + Fraction(1, 10**6))
        )

    @property
    def _is_fraction(self) -> bool:
        return self.step == MM_PER_UNIT["in"] / 64


@dataclass(frozen=True, slots=True)
class Figures:
    """The steps of a number that is no length: its second figure, or whole numbers where it counts something."""

    step: float

    @classmethod
    def of(cls, number: float, *, whole: bool = False) -> "Figures":
        """The steps of a number as it is now.

        >>> [Figures.of(number).step for number in (14.4, 350.0, 0.06)], Figures.of(12.0, whole=True).step
        ([1.0, 10.0, 0.001], 1.0)
        """
        size = math.floor(math.log10(abs(number))) if number else 0
        return cls(1.0 if whole else round(10.0 ** (size - 1), 12))

    def at(self, count: int) -> Printed:
        """The number of so many steps.

        >>> Figures(0.1).at(3), Figures(1.0).at(6).typed
        (Printed(mm=0.3, typed=0.3, text='0.3'), 6)
        """
        number = round(self.step * count, 12)
        typed = int(number) if number == int(number) else number
        return Printed(number, typed, f"{number:g}")

    def said(self, number: float) -> str:
        """A number in words."""
        return f"{number:g}"

    def beyond(self, number: float, towards: int) -> int:
        """The first count of steps that is at a number or past it, upwards (+1) or downwards (-1)."""
        share = number / self.step
        return math.ceil(share - 1e-6) if towards > 0 else math.floor(share + 1e-6)


def steps_for(written: int | float | str, units: Units, *, fit: bool = False, run: bool = False) -> Steps:
    """The steps of a number that is written so in a lamp of these units; ``run`` is a length of cable.

    >>> steps_for(8.8, Units("mm")).at(99)
    Printed(mm=9.9, typed=9.9, text='9.9 mm')
    >>> steps_for("5/16", Units("in")).at(5).typed, steps_for(".742 in", Units("in")).at(742).typed
    ('5/64 in', 0.742)
    """
    own = unit_of(written) if isinstance(written, str) else ""
    own = own or units.unit
    if run:
        step = _RUN if own not in ("in", "ft") else MM_PER_UNIT["in"]
    elif own in ("in", "ft"):
        decimal = isinstance(written, float) or (isinstance(written, str) and "." in written.rstrip(". inft"))
        step = MM_PER_UNIT["in"] / 1000 if decimal else MM_PER_UNIT["in"] / 64
    else:
        step = _FIT if fit else _STEP
    return Steps(step, own, own == units.unit, units, run)


def millimetres(length: float) -> str:
    """A length [mm] as a lamp's file takes it, whatever the lamp's unit.

    >>> millimetres(9.803)
    '9.803000 mm'
    """
    return f"{length:.6f} mm"
