"""What chance draws for one lamp, as people write it: numbers, lengths in mixed units, one of several words."""

from fractions import Fraction
from random import Random
from typing import Any, TypeVar

Table = dict[str, Any]
T = TypeVar("T")
_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}


class Chance:
    """Chance by a number, always the same; ``unit`` is the lamp's, which bare lengths count in."""

    def __init__(self, number: int) -> None:
        self.by = Random(number)
        self.unit = self.by.choice(("mm",) * 12 + ("cm", "in", "in", "in", "m", "ft"))

    def yes(self, share: float) -> bool:
        return self.by.random() < share

    def one(self, *choices: T) -> T:
        return self.by.choice(choices)

    def some(self, low: float, high: float) -> float:
        """A number from a range, rounded as people write."""
        return min(max(round(self.by.uniform(low, high), self.one(0, 1, 1, 2)), low), high)

    def length(self, low: float, high: float) -> Any:
        """A length from a range [mm], as :meth:`written`."""
        return self.written(self.some(low, high))

    def written(self, mm: float) -> Any:
        """A length [mm]: a bare number of the lamp's unit, or a text with another unit, or a fraction of an inch."""
        if self.yes(0.04):
            return f"{round(mm, 3)} mm"
        if self.yes(0.03):
            return f"{round(mm / 25.4, 4)} in"
        if self.unit in ("in", "ft") and self.yes(0.2) and mm > 2:
            sixteenths = max(1, round(mm / 25.4 * 16))
            whole, part = divmod(Fraction(sixteenths, 16), 1)
            return f"{whole}-{part} in" if whole and part else f"{whole or part} in"
        return round(mm / _MM[self.unit], 2 if self.unit == "mm" else 5)

    def angle(self) -> float:
        return self.one(0, 90, 180, 45, -30, self.some(-360, 360))

    def optional(self, share: float, **made: Any) -> Table:
        """Each of some keys, or not; a function is asked for its value only then."""
        return {
            key.rstrip("_"): value() if callable(value) else value
            for key, value in made.items()
            if self.yes(share)
        }
