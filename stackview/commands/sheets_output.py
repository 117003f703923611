"""What ``stackview sheets`` says: stock by stock what lies on which sheet, what is lacking, what to buy; or JSON."""

import json
import sys
import time
from collections import Counter
from collections.abc import Callable
from typing import TextIO

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from stackview import __version__
from stackview.commands.summary import say
from stackview.description.units import Units
from stackview.in_figures import percent
from stackview.sheets.layout import FilledSheet, SheetPlan, StockLayout, StockWithoutSheet
from stackview.sheets.near_miss import RowMiss
from stackview.sheets.record import sheets_record


def write_sheets_json(plan: SheetPlan, out: TextIO) -> None:
    """Write one JSON object."""
    record = {"version": __version__, **sheets_record(plan)}
    out.write(json.dumps(record, ensure_ascii=False, allow_nan=False) + "\n")


def say_first(longest: float) -> Callable[[tuple[FilledSheet, ...]], None]:
    """Who says on standard error that a first layout stands, and how long better ones are looked for."""
    begun = time.monotonic()

    def tell(sheets: tuple[FilledSheet, ...]) -> None:
        count = f"{len(sheets)} sheet{'' if len(sheets) == 1 else 's'}"
        sys.stderr.write(
            f"A first layout after {time.monotonic() - begun:.1f} s takes {count}; looking for better ones, for "
            f"{longest:g} s at most. Ctrl-C keeps the best so far.\n"
        )
        sys.stderr.flush()

    return tell


def show_sheets(screen: Console, plan: SheetPlan, units: Units, longest: float) -> None:
    """All of the plan: a table a stock, and what it comes to in sentences."""
    whose = "1 lamp" if plan.lamps == 1 else f"{plan.lamps} lamps"
    screen.print(Text(f"{plan.lamp}, {whose}", style="bold"))
    say(
        screen,
        f"Between parts {units.show(plan.gap)}: the cutter, {units.show(plan.cutter)}, and a skin beside it. "
        "Zones keep as far off.",
    )
    for stock in plan.stocks:
        _show_stock(screen, stock, plan, units)
    for lacking in plan.without:
        _show_without(screen, lacking, plan, units)
    screen.print()
    if plan.interrupted:
        say(
            screen,
            "Stopped on the way: these are the best layouts until then. Asked again, there may be better ones.",
        )
    elif not plan.is_whole:
        tried = ", ".join(f"{one.tried} of {one.planned}" for one in plan.stocks)
        say(
            screen,
            f"Time ran out after {longest:g} s, with {tried} ways tried: --longest gives it more, "
            "and then the answer is the same each time.",
        )


def _show_stock(screen: Console, stock: StockLayout, plan: SheetPlan, units: Units) -> None:
    pieces = sum(len(sheet.parts) for sheet in stock.sheets)
    count = len(stock.sheets)
    screen.print()
    say(screen, stock.stock.words(units), label=Text("From "))
    screen.print(_table(stock, units))
    on = "1 sheet" if count == 1 else f"{count} sheets"
    say(screen, f"{pieces} pieces on {on}; {percent(stock.share)} of the face becomes parts.")
    for one in stock.yields:
        if one.at_least and not one.lamps:
            continue  # there was no time to find out
        more = " or more" if one.at_least else ""
        said = (
            f"{one.lamps}{more} lamp{'' if one.lamps == 1 and not more else 's'}"
            if one.lamps
            else "no whole lamp"
        )
        say(screen, f'One whole "{one.sheet.name}" gives the parts of {said}.')
    _show_buying(screen, stock, plan, units)
    for miss in stock.misses:
        _show_miss(screen, miss, units)


def _table(stock: StockLayout, units: Units) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    table.add_column("sheet", overflow="fold")
    table.add_column("size", overflow="fold")
    table.add_column("parts", overflow="fold")
    table.add_column("parts reach to", overflow="fold")
    table.add_column("used", justify="right", no_wrap=True)
    for sheet in stock.sheets:
        counts = Counter((one.part.number, one.part.title) for one in sheet.parts)
        inside = sum(one.inside is not None for one in sheet.parts)
        told = [f"{count} × {title}" for (_, title), count in sorted(counts.items())]
        told += [f"{inside} of them in the waste of openings"] if inside else []
        table.add_row(
            sheet.words,
            units.alone.span(*sheet.sheet.size),
            "\n".join(told),
            units.alone.span(*sheet.reach),
            f"{percent(sheet.share)}",
        )
    return table


def _show_buying(screen: Console, stock: StockLayout, plan: SheetPlan, units: Units) -> None:
    """What finds no place on the sheets at hand, by how much, and what to buy for it."""
    if not stock.bought:
        return
    counts = Counter((one.part.number, one.part.title) for sheet in stock.bought for one in sheet.parts)
    pieces = sum(counts.values())
    told = ", ".join(f"{count} × {title}" for (_, title), count in sorted(counts.items()))
    area = sum(one.part.net_area for sheet in stock.bought for one in sheet.parts)
    lamps = stock.lamps_at_hand
    at_hand = (
        ""
        if lamps is None
        else f"; what is at hand gives {'no whole lamp' if not lamps else f'{lamps} lamp' + ('' if lamps == 1 else 's')}"
    )
    say(
        screen,
        f"On the sheets at hand there is no place for {pieces} piece{'' if pieces == 1 else 's'}: {told}, "
        f"{units.area(area)} of parts{at_hand}.",
    )
    kinds: dict[str, list[FilledSheet]] = {}
    for sheet in stock.bought:
        kinds.setdefault(sheet.sheet.name, []).append(sheet)
    for sheets in kinds.values():
        kind, last = sheets[0].sheet, sheets[-1]
        price = kind.price
        cost = "" if price is None else f", {price.amount * len(sheets):.2f} {plan.currency}".rstrip()
        width, depth = last.reach
        say(
            screen,
            f'{len(sheets)} × "{kind.name}", {units.span(*kind.size)}{cost}; of the last one, '
            f"{units.span(width + kind.margin, depth + kind.margin)} are enough.",
            label=Text("To buy: "),
        )


def _show_miss(screen: Console, miss: RowMiss, units: Units) -> None:
    which = ", ".join(str(number) for number in miss.parts)
    less = units.most(max(miss.sheet.margin - 0.5 * miss.lacks, 0.0))
    mend = (
        f"a margin of {less} in place of {units.show(miss.sheet.margin)} would do"
        if miss.sheet.margin > 0.5 * miss.lacks
        else "a little less between them would do"
    )
    say(
        screen,
        f'{miss.count} in a row of part {which} lack {units.small(miss.lacks)} {miss.way} on "{miss.sheet.name}": '
        f"they take {units.show(miss.needs)} with their gaps, and {units.show(miss.room)} are between its margins; "
        f"{mend}.",
        label=Text("Near miss: "),
    )


def _show_without(screen: Console, lacking: StockWithoutSheet, plan: SheetPlan, units: Units) -> None:
    pieces = plan.lamps * sum(part.count for part in lacking.parts)
    screen.print()
    say(screen, lacking.stock.words(units), label=Text("From "))
    sizes = "; ".join(
        f"{units.span(one.along, one.across)} ({percent(one.share)} used)" for one in lacking.sizes
    )
    order = ", along the grain first" if lacking.parts[0].grain is not None else ""
    say(
        screen,
        f"The file lists no sheet of it. Its {pieces} piece{'' if pieces == 1 else 's'} find room on one of these sizes, "
        f"each tried with a margin of {units.show(lacking.margin)}{order}: {sizes}.",
    )
    if lacking.sizes:
        first = lacking.sizes[0]
        say(
            screen,
            f'List what you have: [[sheet]] material = "{lacking.material}", size = '
            f'["{units.alone.plain(first.along)}", "{units.alone.plain(first.across)}"]; '
            "`stackview keys sheet` tells the rest.",
        )
