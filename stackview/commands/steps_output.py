"""What ``stackview steps`` says: the order in a screen, every step in full, JSON, or a page for the bench."""

import json
from pathlib import Path
from typing import TextIO

from rich.console import Console
from rich.text import Text

from stackview import __version__
from stackview.commands.summary import STYLE, console, say
from stackview.commands.writing import check_ours, write_ours
from stackview.description.units import Units
from stackview.findings import Level
from stackview.shop.step import WorkOrder, WorkStep
from stackview.shop.step_words import FIRST, GUIDANCE, NUMBERS, after_words, headline, in_a_screen
from stackview.shop.steps_page import PAGE_MARK, steps_page
from stackview.shop.steps_record import steps_record


def write_steps_json(order: WorkOrder, out: TextIO) -> None:
    """Write one JSON object."""
    record = {"version": __version__, **steps_record(order)}
    out.write(json.dumps(record, ensure_ascii=False, allow_nan=False) + "\n")


def check_page(target: Path) -> None:
    """Raise OutputError where something stands that is no page of ours."""
    check_ours(target, PAGE_MARK)


def write_steps_page(order: WorkOrder, units: Units, target: Path) -> None:
    """Write the page, in place of one of ours if there is one; raises OutputError as ``write_ours`` does."""
    write_ours(target, steps_page(order, units), PAGE_MARK)


def show_steps(order: WorkOrder, units: Units, *, full: bool, written: Path | None) -> None:
    """Print the order, faults first."""
    screen = console()
    screen.print(Text(order.lamp, style="bold"))
    for fault in order.faults:
        label = Text("Mend first: ", style=STYLE[Level.FAULT])
        say(
            screen,
            f"{fault.brief}." if order.steps else f"{fault.where}: {fault.what}. {fault.advice}",
            label=label,
        )
    if not order.steps:
        say(screen, "It goes together in no order, so that there are no steps to tell.")
        return
    say(screen, headline(order))
    screen.print()
    if full:
        _show_full(screen, order, units)
    else:
        _show_short(screen, order)
    screen.print()
    say(screen, FIRST)
    if written is not None:
        screen.print(f"Wrote {written}", soft_wrap=True)
    elif not full:
        say(screen, "Each step with its tools, reasons and cautions: --full; a page for the bench: --page.")


def _show_short(screen: Console, order: WorkOrder) -> None:
    rows = in_a_screen(order)
    wide = max(len(numbers) for numbers, _ in rows)
    for numbers, words in rows:
        say(screen, words, label=Text(f"{numbers:>{wide}}  ", style="bold"))


def _show_full(screen: Console, order: WorkOrder, units: Units) -> None:
    say(screen, NUMBERS)
    for spell in order.spells:
        screen.print()
        screen.print(spell.heading, style="bold")
        for words in spell.cautions:
            say(screen, f"{words}.", indent=4, label=Text("Mind: ", style="red"))
        for number, step in enumerate(spell.steps, spell.first):
            screen.print()
            say(screen, step.title, label=Text(f"{number:2d}  ", style="bold"))
            _show_step(screen, order, step)
    if order.figures:
        screen.print()
        say(screen, GUIDANCE)
        for figures in order.figures:
            say(screen, figures.words(units), indent=4)


def _show_step(screen: Console, order: WorkOrder, step: WorkStep) -> None:
    for sentence in step.do:
        say(screen, sentence, indent=4)
    if step.tools:
        say(screen, f"{', '.join(step.tools)}.", indent=4, label=Text("With: ", style="dim"))
    for words in after_words(order, step):
        say(screen, f"{words}.", indent=4, label=Text("Order: ", style="dim"))
    for finding in step.findings:
        label = Text(f"{finding.level.word.capitalize()}: ", style=STYLE[finding.level])
        say(screen, f"{finding.brief}. {finding.advice}", indent=4, label=label)
