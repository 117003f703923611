"""What ``stackview parts`` says: two tables on the terminal, or the same as CSV or JSON."""

import csv
from typing import TextIO

from rich.console import Console
from rich.table import Table
from rich.text import Text

from stackview import __version__
from stackview.commands.json_text import json_text
from stackview.commands.summary import console, say
from stackview.description.material import Length
from stackview.description.units import Units
from stackview.in_figures import figure
from stackview.shop.listed import ListedPart, PartsList
from stackview.shop.part_size import to_a_64th
from stackview.shop.parts_record import parts_record, parts_table
from stackview.shop.stock import Stock

_STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""A cell that begins so would be worked out by a spreadsheet: it gets an apostrophe in front."""


def write_parts_json(listed: PartsList, out: TextIO) -> None:
    """Write one JSON object."""
    record = {"version": __version__, **parts_record(listed)}
    out.write(json_text(record, out) + "\n")


def write_parts_csv(listed: PartsList, out: TextIO) -> None:
    """One table: what is made, then what is bought; its first row names the columns."""
    rows = parts_table(listed)
    writer = csv.DictWriter(out, fieldnames=list(rows[0]), lineterminator="\n")
    writer.writeheader()
    for row in rows:
        writer.writerow({key: _cell(value) for key, value in row.items()})


def _cell(value: str | float | None) -> str | float:
    if value is None:
        return ""
    return f"'{value}" if isinstance(value, str) and value.startswith(_STARTS_A_FORMULA) else value


def show_parts(listed: PartsList, units: Units) -> None:
    """What is made, stock by stock, then what is bought."""
    screen = console()
    pieces = sum(part.count for part in listed.parts)
    whose = "" if listed.lamps == 1 else f", {listed.lamps} lamps"
    screen.print(Text(f"{listed.lamp}{whose}", style="bold"))
    different = len(listed.parts)
    say(
        screen,
        f"{pieces} piece{'' if pieces == 1 else 's'}, {different} different, {figure(listed.grams)} g together. "
        "Sizes are finished sizes.",
    )
    by_stock: dict[Stock, list[ListedPart]] = {}
    for part in listed.parts:
        by_stock.setdefault(part.stock, []).append(part)
    for stock, parts in by_stock.items():
        screen.print()
        say(screen, stock.words(units), label=Text("From "))
        screen.print(_made(parts, units, priced=any(part.price is not None for part in listed.parts)))
    screen.print()
    screen.print(_bought(listed))
    _show_price(screen, listed)


def _made(parts: list[ListedPart], units: Units, *, priced: bool) -> Table:
    table = Table(show_lines=True)
    table.add_column("count", justify="right", no_wrap=True)
    table.add_column("part", ratio=2, overflow="fold")
    table.add_column("made to", ratio=6, overflow="fold")
    table.add_column("each", justify="right", no_wrap=True)
    for part in parts:
        cost = "" if part.price is None else f"\n{part.price:.2f}"
        each = f"{figure(part.grams)} g"
        table.add_row(str(part.count), part.title, made_to(part, units), each + (cost if priced else ""))
    return table


def made_to(part: ListedPart, units: Units) -> str:
    """All that is done to one part, a line for each kind of thing."""
    lines = [_size(part, units)]
    if part.grain:
        lines.append(f"grain {part.grain}")
    work = part.work
    if work is not None:
        lines += [f"through: {one}" for one in work.through]
        lines += [f"top: {one}" for one in work.top]
        lines += [f"underside: {one}" for one in work.underside]
        lines += [f"chamfer: {one}" for one in work.chamfers]
        lines += [f"bore: {one}" for one in work.bores]
        if work.flips:
            lines.append("turned over once: both faces are worked on")
        elif work.face_up == "underside":
            lines.append("worked on with its underside up")
    if part.finish:
        lines.append(part.finish)
    if part.turned_over:
        lines.append(f"the other way up in the lamp: {', '.join(part.turned_over)}")
    return "\n".join(lines)


def _size(part: ListedPart, units: Units) -> str:
    """Shape and thickness or length; the rectangle about it where the shape does not say it."""
    along, across = part.size
    plain = {units.span(along, across), units.span(across, along)}
    says = (
        part.shape.partition(", corners")[0] in plain
        or part.shape.startswith("⌀")
        or part.shape.endswith("over all")
    )
    long = part.tall.mm if isinstance(part.tall, Length) else part.tall
    if part.work is None:
        return f"{part.shape}, {units.show(part.tall)} long{_by_a_rule((long,), units)}"
    rectangle = ""
    if not says:
        order = ", the first along the grain" if part.grain else ""
        rectangle = f"; in a rectangle {units.span(along, across)}{order}"
    ruled = (along,) if part.shape.startswith("⌀") else (along, across)
    return f"{part.shape}, {units.show(part.tall)} thick{rectangle}{_by_a_rule(ruled, units)}"


def _by_a_rule(lengths: tuple[float, ...], units: Units) -> str:
    """The same sizes to the nearest 64th of an inch, where one is none."""
    if not any(to_a_64th(mm, units) for mm in lengths):
        return ""
    told = " × ".join(to_a_64th(mm, units) or units.plain(mm) for mm in lengths)
    return f"; by a rule {told}"


def _bought(listed: PartsList) -> Table:
    priced = any(thing.price is not None for thing in listed.bought)
    table = Table(title="To buy", title_justify="left", show_lines=True)
    table.add_column("what", ratio=5, overflow="fold")
    table.add_column("how much", ratio=3, overflow="fold")
    table.add_column("for", ratio=6, overflow="fold")
    if priced:
        table.add_column("price", justify="right", no_wrap=True)
    for thing in listed.bought:
        cost = [] if not priced else ["" if thing.price is None else f"{thing.price:.2f}"]
        table.add_row(thing.what, thing.amount, thing.how, *cost)
    return table


def _show_price(screen: Console, listed: PartsList) -> None:
    if len(listed.unpriced) == len(listed.bought):
        return
    missing = len(listed.unpriced)
    without = f"; {missing} of {len(listed.bought)} lines have no price" if missing else ""
    say(screen, f"Together {f'{listed.price:.2f} {listed.currency}'.strip()}{without}.")
