"""What things cost, as the maker writes it: an amount and what it is for, "38 per m2"."""

from dataclasses import dataclass
from typing import Literal

PriceUnit = Literal["m2", "ft2", "m", "ft", "kg", "piece", "ml", "l"]

_IN_ONE = {
    "m2": 1e6,
    "ft2": 304.8**2,
    "m": 1000.0,
    "ft": 304.8,
    "kg": 1000.0,
    "piece": 1.0,
    "ml": 1.0,
    "l": 1000.0,
}
"""Square millimetres, millimetres, grams, pieces or millilitres in each (1 ft = 304.8 mm exactly)."""


@dataclass(frozen=True, slots=True)
class Price:
    """An amount of the lamp's currency for one of something."""

    amount: float
    per: PriceUnit

    def of(self, **much: float) -> float | None:
        """What so much costs; None where the price is for something else.

        Take ``area`` [mm²], ``length`` [mm], ``grams``, ``pieces`` or ``ml``, as many as are known.

        >>> Price(40.0, "m2").of(area=250_000.0, grams=3.0), Price(2.0, "m").of(area=1.0)
        (10.0, None)
        """
        counted = {
            "m2": "area",
            "ft2": "area",
            "m": "length",
            "ft": "length",
            "kg": "grams",
            "piece": "pieces",
            "ml": "ml",
            "l": "ml",
        }[self.per]
        return self.amount * much[counted] / _IN_ONE[self.per] if counted in much else None

    def __str__(self) -> str:
        return f"{self.amount:.2f} per {self.per.replace('2', '²')}"
