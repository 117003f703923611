"""The question that ``stackview sheets`` asks: the parts of so many lamps on the sheets at hand."""

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from stackview.description import defaults
from stackview.description.lamp import Lamp
from stackview.description.sheet_at_hand import SheetAtHand
from stackview.errors import StackviewError
from stackview.sheets.fits import Fits, turned_places
from stackview.sheets.laying import LaidOut
from stackview.sheets.layout import FilledSheet, LaidPart, SheetPlan, StockLayout, StockWithoutSheet
from stackview.sheets.near_miss import near_misses
from stackview.sheets.pieces import SheetPart, flat_shape, outline_middle, sheet_part
from stackview.sheets.proof import check_filled_sheet
from stackview.sheets.search import Search, search, ways_planned
from stackview.sheets.sizes import sizes_that_do
from stackview.sheets.too_large import check_parts_fit
from stackview.sheets.usable import grain_turn, in_own_frame, usable_region
from stackview.sheets.yields import lamps_at_hand, sheet_yields
from stackview.shop.copies import cut_parts
from stackview.shop.part_sheet import part_sheets
from stackview.shop.parts_list import MOST_LAMPS
from stackview.shop.stock import SheetStock, of_one_stock, stock_of

if TYPE_CHECKING:
    from stackview.study import Study

MOST_PIECES = 400
"""_PiecesOf of one stock that are laid out at a time."""
_SAME = 1e-6
First = Callable[[tuple[FilledSheet, ...]], None]
"""What is called with the first layout of all stocks."""


@dataclass(frozen=True, slots=True, eq=False)
class StockQuestion:
    """The parts of one stock, the sheets of it, and what fits where."""

    stock: SheetStock
    parts: tuple[SheetPart, ...]
    sheets: tuple[SheetAtHand, ...]
    """Those at hand; the first regions of ``fits``, as many, are theirs."""
    fits: Fits
    """The regions after those are of the same sheets as they are bought: without zones."""
    lamps: int

    @property
    def pieces(self) -> tuple[int, ...]:
        """The shape of every piece of all lamps."""
        return self.of_lamps(self.lamps)

    def of_lamps(self, lamps: int) -> tuple[int, ...]:
        """The shape of every piece of so many lamps."""
        return tuple(k for k, part in enumerate(self.parts) for _ in range(lamps * part.count))

    @property
    def at_hand(self) -> tuple[int, ...]:
        """The region of every sheet at hand."""
        return tuple(k for k, sheet in enumerate(self.sheets) for _ in range(sheet.count))


def cutting_gap(lamp: Lamp) -> float:
    """What is kept between parts [mm]: the cutter, and a skin beside it."""
    return lamp.cutter + defaults.SHEET_SKIN.number


def sheet_plan(
    study: "Study", lamps: int = 1, *, longest: float = 20.0, first: First | None = None
) -> SheetPlan:
    """Lay the parts of ``lamps`` equal lamps on the sheets that the lamp's file lists, stock by stock.

    What finds no place at hand goes on more sheets of those kinds, to be bought. The search ends after
    ``longest`` [s] at the latest, or at Ctrl-C, with the best so far; left to itself it tries the same ways
    each time. Every sheet is checked (:func:`~stackview.sheets.proof.check_filled_sheet`) before it is given out.

    Raises LampError where the lamp cannot be built; StackviewError for a number of lamps that is none or too
    large, and for a part that is larger than every sheet of its stock.
    """
    if isinstance(lamps, bool) or not isinstance(lamps, int) or not 1 <= lamps <= MOST_LAMPS:
        raise StackviewError(f"{lamps} lamps: give a whole number from 1 to {MOST_LAMPS}")
    until = time.monotonic() + longest
    lamp, gap = study.stack.lamp, cutting_gap(study.stack.lamp)
    by_stock: dict[SheetStock, list[SheetPart]] = {}
    marks = {sheet.layer.name: tuple(mark.line for mark in sheet.marks) for sheet in part_sheets(study)}
    for number, part in enumerate(cut_parts(study), 1):
        stock = stock_of(part.layer)
        if isinstance(stock, SheetStock):
            by_stock.setdefault(stock, []).append(sheet_part(number, part, marks[part.name]))
    questions, lacking = [], []
    for stock, parts in by_stock.items():
        own = tuple(sheet for sheet in lamp.sheets if _is_of(sheet, stock))
        pieces = lamps * sum(part.count for part in parts)
        if pieces > MOST_PIECES:
            most = MOST_PIECES // sum(part.count for part in parts)
            raise StackviewError(
                f"{study.source}: {lamps} lamps have {pieces} pieces of {stock.words(lamp.units)}; {MOST_PIECES} are "
                f"laid out at a time: ask for {most} lamps at most"
            )
        shapes = [flat_shape(part, gap) for part in parts]
        regions = [usable_region(sheet, gap) for sheet in (*own, *map(_as_bought, own))]
        question = StockQuestion(stock, tuple(parts), own, Fits(shapes, regions, gap), lamps)
        if own:
            check_parts_fit(study.source, question.fits, own, question.parts, lamp.units)
            questions.append(question)
        else:
            lacking.append(question)
    stocks, interrupted = _solve(questions, until, first)
    without = [_without_sheet(question, lamp) for question in lacking]
    for filled in (sheet for stock in stocks for sheet in stock.sheets):
        check_filled_sheet(filled, gap)
    return SheetPlan(
        lamp.name, lamps, gap, lamp.cutter, tuple(stocks), tuple(without), lamp.currency, interrupted
    )


def _as_bought(sheet: SheetAtHand) -> SheetAtHand:
    """Another sheet of the same kind: what is wrong with the one at hand is not wrong with it."""
    return replace(sheet, zones=())


def _without_sheet(question: StockQuestion, lamp: Lamp) -> StockWithoutSheet:
    margin = defaults.SHEET_MARGIN.number
    sizes = sizes_that_do(question.fits, question.pieces, margin, lamp.units)
    name = question.parts[0].layer.material.name
    return StockWithoutSheet(question.stock, name, question.parts, margin, sizes)


def _is_of(sheet: SheetAtHand, stock: SheetStock) -> bool:
    """Whether a sheet is of a stock: the same stuff, as thick."""
    same = of_one_stock(sheet.material) == of_one_stock(stock.material)
    return same and abs(sheet.thickness - stock.thickness) <= _SAME


def _solve(
    questions: Sequence[StockQuestion], until: float, first: First | None
) -> tuple[list[StockLayout], bool]:
    """First a layout of every stock, then better ones, each stock with its share of the time that is left."""
    begun: list[tuple[tuple[int, ...], Search]] = []
    for question in questions:
        sheets = _enough(question)
        found = search(question.fits, question.pieces, sheets, ways=1)
        begun.append((sheets, found))
    if first is not None and begun:
        first(
            tuple(
                sheet
                for question, (_, found) in zip(questions, begun, strict=True)
                for sheet in _filled(question, found.best)
            )
        )
    stocks, interrupted = [], False
    for index, (question, (sheets, found)) in enumerate(zip(questions, begun, strict=True)):
        planned = ways_planned(len(question.pieces))
        better = Search(found.best, found.way, 1, planned)
        if planned > 1 and not interrupted:
            now = time.monotonic()
            share = now + (until - now) / (len(questions) - index)
            better = search(question.fits, question.pieces, sheets, until=share)
            interrupted = better.interrupted
        try:
            stocks.append(_answer(question, better, None if interrupted else until))
        except KeyboardInterrupt:
            interrupted = True
            stocks.append(_answer(question, better, None))
    return stocks, interrupted


def _enough(question: StockQuestion) -> tuple[int, ...]:
    """Regions of the sheets at hand, and then of as many to buy as all pieces surely need.

    What is bought is a kind that holds every part, where there is one: the kind of which most of its face
    can be used for each unit of money, where every kind has a price, else the largest; then the others.
    """
    fits, kinds = question.fits, range(len(question.sheets))
    priced = all(sheet.price is not None for sheet in question.sheets)

    def worth(k: int) -> tuple[bool, float]:
        region, price = len(kinds) + k, question.sheets[k].price
        area = fits.regions[region].area
        paid = price.amount if priced and price is not None else 1.0
        return _holds_all(fits, region), area / max(paid, 1e-9)

    bought = sorted(kinds, key=worth, reverse=True)
    if worth(bought[0])[0]:
        bought = bought[:1]
    return (*question.at_hand, *(len(kinds) + k for k in bought for _ in question.pieces))


def _holds_all(fits: Fits, region: int) -> bool:
    return all(
        any(not fits.on_sheet(region, (number, turn)).is_empty for turn in range(len(shape.turns)))
        for number, shape in enumerate(fits.shapes)
    )


def _answer(question: StockQuestion, found: Search, until: float | None) -> StockLayout:
    turns = [(sheet, grain_turn(sheet)) for sheet in question.sheets]
    counts = [question.lamps * part.count for part in question.parts]
    numbers = [part.number for part in question.parts]
    sheets = _filled(question, found.best)
    lamps: int | None = question.lamps
    if any(sheet.bought for sheet in sheets):
        lamps = lamps_at_hand(question.fits, question.of_lamps, question.at_hand, question.lamps, until)
    return StockLayout(
        question.stock,
        question.parts,
        sheets,
        lamps,
        sheet_yields(question.fits, question.of_lamps, question.sheets, until),
        near_misses(question.fits, counts, numbers, turns),
        found.tried,
        found.planned,
    )


def _filled(question: StockQuestion, laid: LaidOut) -> tuple[FilledSheet, ...]:
    """The sheets of a layout with their parts, in each sheet's own frame."""
    used = [0] * len(question.fits.regions)
    filled = []
    for region, shapes in laid.sheets:
        bought = region >= len(question.sheets)
        sheet = question.sheets[region % len(question.sheets)]
        used[region] += 1
        copy = used[region] + (sheet.count if bought else 0)
        parts = []
        for one in shapes:
            part = question.parts[one.shape]
            turn = (question.fits.shapes[one.shape].turns[one.turn] - grain_turn(sheet)) % 360.0
            middle = in_own_frame(sheet, one.x, one.y)
            x, y = middle - turned_places(np.array((outline_middle(part),)), turn)[0]
            parts.append(LaidPart(part, turn, float(x), float(y), one.waste_of))
        filled.append(FilledSheet(_as_bought(sheet) if bought else sheet, copy, bought, tuple(parts)))
    return tuple(filled)
