"""Parts laid out on sheets: what lies where, what it comes to, and what is lacking."""

from dataclasses import dataclass

from stackview.arrays import Floats
from stackview.curves.arcs import Path, area, bounds
from stackview.description.outline import path_of
from stackview.description.sheet_at_hand import SheetAtHand
from stackview.one_line import one_line
from stackview.sheets.near_miss import RowMiss
from stackview.sheets.pieces import SheetPart, line_on_sheet, on_sheet
from stackview.shop.stock import SheetStock


@dataclass(frozen=True, slots=True)
class LaidPart:
    """One part where it lies on a sheet: turned by ``turn`` [°], its own frame's origin at (x, y) [mm].

    ``inside`` is the number of the part on the same sheet in whose opening's waste it lies, counted from 0.
    """

    part: SheetPart
    turn: float
    x: float
    y: float
    inside: int | None = None

    __repr__ = one_line

    def laid(self, path: Path) -> Path:
        """A curve of the part's own frame where it lies on the sheet."""
        return on_sheet(self.part, path, self.turn, self.x, self.y)

    @property
    def marks(self) -> tuple[Floats, ...]:
        """Its index marks where it lies."""
        return tuple(line_on_sheet(self.part, line, self.turn, self.x, self.y) for line in self.part.marks)

    @property
    def outline(self) -> Path:
        """Its edge where it lies."""
        return self.laid(path_of(self.part.layer.outline, "outline"))


@dataclass(frozen=True, slots=True)
class FilledSheet:
    """One sheet with the parts that lie on it."""

    sheet: SheetAtHand
    copy: int
    """Which of the equal sheets it is, from 1."""
    bought: bool
    """Whether it is one more than are at hand."""
    parts: tuple[LaidPart, ...]

    __repr__ = one_line

    @property
    def share(self) -> float:
        """Share of its face that becomes parts, their openings taken off."""
        return sum(one.part.net_area for one in self.parts) / area(self.sheet.path)

    @property
    def reach(self) -> tuple[float, float]:
        """How far right and how far back its parts reach [mm]."""
        boxes = [bounds(one.outline) for one in self.parts]
        return max(box[2] for box in boxes), max(box[3] for box in boxes)

    @property
    def words(self) -> str:
        """What it is called: its name, and its number where there are several."""
        of = f", no. {self.copy}" if self.sheet.count > 1 or self.copy > 1 else ""
        return f"{self.sheet.name}{of}{' (to buy)' if self.bought else ''}"


@dataclass(frozen=True, slots=True)
class SheetYield:
    """How many lamps one fresh sheet gives parts for, of its own stock."""

    sheet: SheetAtHand
    lamps: int
    at_least: bool
    """Whether more were not tried, so that it may be more."""


@dataclass(frozen=True, slots=True)
class StockLayout:
    """All parts of one stock on the sheets of it."""

    stock: SheetStock
    parts: tuple[SheetPart, ...]
    sheets: tuple[FilledSheet, ...]
    lamps_at_hand: int | None
    """How many whole lamps the sheets at hand give parts for, up to those asked; None where not found out."""
    yields: tuple[SheetYield, ...]
    misses: tuple[RowMiss, ...]
    tried: int
    planned: int

    __repr__ = one_line

    @property
    def bought(self) -> tuple[FilledSheet, ...]:
        """Sheets that have to be bought."""
        return tuple(sheet for sheet in self.sheets if sheet.bought)

    @property
    def share(self) -> float:
        """Share of all begun sheets that becomes parts."""
        whole = sum(area(sheet.sheet.path) for sheet in self.sheets)
        return sum(one.part.net_area for sheet in self.sheets for one in sheet.parts) / whole


@dataclass(frozen=True, slots=True)
class SizeThatDoes:
    """A sheet on which all parts of a stock were laid: along the grain (or its long side) and across [mm]."""

    along: float
    across: float
    share: float


@dataclass(frozen=True, slots=True)
class StockWithoutSheet:
    """A stock of which the file lists no sheet, and sizes that would do."""

    stock: SheetStock
    material: str
    """The material's name in the file."""
    parts: tuple[SheetPart, ...]
    margin: float
    sizes: tuple[SizeThatDoes, ...]

    __repr__ = one_line


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """The parts of so many lamps on sheets, stock by stock."""

    lamp: str
    lamps: int
    gap: float
    """What is kept between parts, and between parts and zones [mm]."""
    cutter: float
    stocks: tuple[StockLayout, ...]
    without: tuple[StockWithoutSheet, ...]
    currency: str
    interrupted: bool
    """Whether the maker stopped the search; the layouts are the best until then."""

    __repr__ = one_line

    @property
    def sheets(self) -> tuple[FilledSheet, ...]:
        """All filled sheets."""
        return tuple(sheet for stock in self.stocks for sheet in stock.sheets)

    @property
    def is_whole(self) -> bool:
        """Whether all ways that were to be tried were tried."""
        return all(stock.tried >= stock.planned for stock in self.stocks)
