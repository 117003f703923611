"""The lines of a parts list: what is made, and what is bought."""

from dataclasses import dataclass

from stackview.description.material import Length
from stackview.description.units import Units
from stackview.one_line import one_line
from stackview.shop.stock import Stock
from stackview.shop.work import Work


@dataclass(frozen=True, slots=True)
class ListedPart:
    """One line of what is made: equal parts, with all that is done to each."""

    title: str
    names: tuple[str, ...]
    turned_over: tuple[str, ...]
    """Those of them that stand in the lamp the other way up."""
    count: int
    """How many, of all lamps together."""
    stock: Stock
    material: str
    """The material's name in the file."""
    shape: str
    """What it is cut to, in words."""
    size: tuple[float, float]
    """The rectangle about it: along its grain and across, or its long side and its short one [mm]."""
    tall: float | Length
    """Its thickness, or the length that it is cut to [mm]; as the maker wrote it where it is that."""
    grain: str
    """How the grain runs in it, in words; empty where it has none."""
    work: Work | None
    """What is cut into it; None for what is only cut to length."""
    finish: str
    """How its faces are finished, in words."""
    grams: float
    """Mass of one [g]."""
    price: float | None
    """What the material of one costs by its own rectangle or length; None where no price says."""

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class BoughtThing:
    """One line of what is bought, for all lamps together."""

    what: str
    """What to ask for."""
    amount: str
    """How much of it, in words."""
    how: str
    """What it is cut to or needed for, and what the number rests on."""
    number: float
    """The amount as a number, counted in ``of``."""
    of: str
    """"mm", "mm²", "ml" or "pieces"."""
    price: float | None = None
    """What it costs; None where no price says."""

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class PartsList:
    """All that is made and bought for a number of equal lamps."""

    lamp: str
    lamps: int
    parts: tuple[ListedPart, ...]
    """From the bottom of the stack up, then posts and core."""
    bought: tuple[BoughtThing, ...]
    currency: str
    units: Units
    """How the lamp's lengths are said."""

    __repr__ = one_line

    @property
    def grams(self) -> float:
        """Mass of all that is made, for all lamps [g]."""
        return sum(part.count * part.grams for part in self.parts)

    @property
    def price(self) -> float:
        """What everything bought that has a price costs."""
        return sum(thing.price for thing in self.bought if thing.price is not None)

    @property
    def unpriced(self) -> tuple[str, ...]:
        """What is bought and has no price."""
        return tuple(thing.what for thing in self.bought if thing.price is None)
