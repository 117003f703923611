"""How many whole lamps a sheet gives parts for."""

from collections.abc import Callable, Sequence

from stackview.description.sheet_at_hand import SheetAtHand
from stackview.sheets.fits import Fits
from stackview.sheets.laying import LaidOut
from stackview.sheets.layout import SheetYield
from stackview.sheets.search import search

_WAYS = 8
_MOST_PIECES = 120
"""_PiecesOf on one sheet beyond which no more lamps are tried."""
_PiecesOf = Callable[[int], tuple[int, ...]]
"""The shape of every piece of so many lamps."""


def sheet_yields(
    fits: Fits, pieces: _PiecesOf, sheets: Sequence[SheetAtHand], until: float | None
) -> tuple[SheetYield, ...]:
    """How many lamps one fresh sheet of each kind gives; lamps are added until eight ways fail to lay them out."""
    found = []
    for region, sheet in enumerate(sheets):
        lamps, at_least = _most(fits, pieces, (region,), 10**6, until)
        found.append(SheetYield(sheet, lamps, at_least))
    return tuple(found)


def lamps_at_hand(
    fits: Fits, pieces: _PiecesOf, at_hand: Sequence[int], asked: int, until: float | None
) -> int | None:
    """How many whole lamps, fewer than asked, all sheets at hand give; None where there was no time to find out."""
    lamps, at_least = _most(fits, pieces, at_hand, asked - 1, until)
    return None if at_least and lamps < asked - 1 else lamps


def all_laid(laid: LaidOut) -> bool:
    """Whether every shape found a place."""
    return not laid.left_over


def _most(
    fits: Fits, pieces: _PiecesOf, sheets: Sequence[int], most: int, until: float | None
) -> tuple[int, bool]:
    """The most lamps that were laid out, and whether it was left there without one that failed."""
    room = sum(float(fits.regions[region].area) for region in sheets)
    lamps = 0
    while lamps < most:
        shapes = pieces(lamps + 1)
        if sum(fits.shapes[shape].area for shape in shapes) > room:
            return lamps, False
        if len(shapes) > _MOST_PIECES or until is None:
            return lamps, True
        found = search(fits, shapes, sheets, until=until, ways=_WAYS, enough=all_laid)
        if found.best.left_over:
            return lamps, not found.is_whole
        lamps += 1
    return lamps, True
