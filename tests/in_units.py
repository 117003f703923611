"""The demo lamps written in another unit: every length of the file to the last bit what it was."""

from decimal import Decimal
from fractions import Fraction
from functools import cache

from stackview.description.lamp_file import LampFile
from stackview.description.units import MM_PER_UNIT
from stackview.study import Study
from tests.stills.demos import FOLDER


def written_in(file: LampFile, unit: str) -> LampFile:
    """The file with ``unit`` as its own, each length written in it and exactly as long."""
    lengths = {
        number.path: _text(Fraction(number.value).limit_denominator(10**6) / MM_PER_UNIT[unit], unit)
        for number in file.numbers()
        if number.is_length
    }
    return file.changed({"unit": unit, **lengths})


def _text(number: Fraction, unit: str) -> str:
    """A decimal where it is one, else a fraction."""
    left = number.denominator
    for prime in (2, 5):
        while left % prime == 0:
            left //= prime
    plain = f"{Decimal(number.numerator) / Decimal(number.denominator):f}" if left == 1 else str(number)
    return f"{plain} {unit}"


@cache
def in_unit(name: str, unit: str) -> Study:
    """A demo lamp written in ``unit``."""
    return Study(written_in(LampFile.read(FOLDER / f"{name}.toml"), unit))
