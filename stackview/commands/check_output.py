"""What ``stackview check`` says: findings with limit and source, and the table of checks."""

from collections.abc import Mapping
from typing import Any, TextIO

from rich.table import Table
from rich.text import Text

from stackview import __version__
from stackview.change.mends import Mending
from stackview.checks.all_checks import ALL_CHECKS, names_of, passed
from stackview.checks.subject import Check
from stackview.commands.json_text import json_text
from stackview.commands.summary import STYLE, console, show_mends, tally
from stackview.description.limits_table import Limit, known_limits
from stackview.description.units import Units
from stackview.findings import Bound, Finding
from stackview.in_figures import with_unit
from stackview.study import Study

_SORT = {Bound.LEAST: "at least", Bound.MOST: "at most", Bound.TAKEN: "taken as it stands"}
"""What a limit is, in the table of checks."""


def write_checked(study: Study, out: TextIO) -> None:
    """One JSON object: whose it is, which checks ran and passed, every finding, worst first, and the facts.

    ``unit`` is the one that the lamp's file is written in; lengths of values, limits and places
    are millimetres, as their own units say.
    """
    mending = Mending(study)
    found = {
        "version": __version__,
        "lamp": study.lamp.name,
        "unit": study.lamp.unit,
        "ran": list(names_of()),
        "passed": list(passed(study.findings)),
        "findings": [_finding(finding, mending) for finding in study.findings],
        "facts": [fact.record() for fact in study.facts],
    }
    out.write(json_text(found, out) + "\n")


def show_checked(study: Study, *, facts: bool = False) -> None:
    """Every finding, worst first, with its limit and its source, ``facts`` in a table; then what would mend them."""
    screen = console()
    screen.print(Text(study.lamp.name, style="bold"))
    screen.print(tally(study.findings))
    for finding in study.findings:
        screen.print()
        text = Text(f"{finding.level.word}: ", style=STYLE[finding.level])
        text.append(f"{finding.where}: {finding.what}.", style="default")
        screen.print(text)
        if finding.advice:
            screen.print(Text(f"    {finding.advice}"))
        held = _held(finding, study.lamp.units)
        if held:
            screen.print(Text(f"    {held}", style="dim"))
    if study.facts:
        screen.print()
        screen.print(_facts(study) if facts else _left_out(study.facts))
    show_mends(screen, Mending(study))


def _left_out(facts: tuple[Finding, ...]) -> str:
    return f"Nothing to do about, and so not told here: {_told(facts)}. `stackview check --all` has them."


def _told(facts: tuple[Finding, ...]) -> str:
    """How many facts of which checks, e.g. "21 facts on heights, seat and glue"."""
    names = list(dict.fromkeys(fact.check for fact in facts))
    some = " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
    return f"{len(facts)} fact{'s' if len(facts) != 1 else ''} on {some}"


def _facts(study: Study) -> Table:
    table = Table(title="Facts", title_justify="left", show_lines=True)
    for heading, ratio in (("check", 1), ("where", 3), ("what", 6), ("source", 4)):
        table.add_column(heading, ratio=ratio)
    for fact in study.facts:
        advice = f" {fact.advice}" if fact.advice else ""
        table.add_row(fact.check, fact.where, f"{fact.what}.{advice}", fact.source)
    return table


def _finding(finding: Finding, mending: Mending) -> dict[str, Any]:
    """A finding with its mends: nothing under ``mends`` where none were looked for."""
    found = mending.of(finding)
    row: dict[str, Any] = finding.record()
    row["mends"] = None if found is None else [mend.record() for mend in found.mends]
    row["mends_note"] = "" if found is None else found.note
    return row


def _held(finding: Finding, units: Units) -> str:
    """Value, limit and source in one line."""
    parts = []
    if finding.value is not None and finding.limit == 0.0:
        parts.append(_amount(finding.value, finding.unit, units))
    elif finding.value is not None and finding.limit is not None:
        held = "limit" if finding.bound is None else finding.bound.words
        parts.append(
            f"{_amount(finding.value, finding.unit, units)}, {held} {_amount(finding.limit, finding.unit, units)}"
        )
    if finding.source:
        parts.append(finding.source)
    return f"[{finding.check}] " + "; ".join(parts)


def _amount(value: float, of: str, units: Units) -> str:
    if of == "mm":
        return units.show(value)
    if of in ("mm²", "mm³"):
        return units.area(value) if of == "mm²" else units.volume(value)
    text = f"{value:.3g}" if abs(value) < 100 else f"{value:.0f}"
    text = "0" if float(text) == 0.0 else text
    of = of.removesuffix("s") if value == 1 else of
    return with_unit(text, of)


def show_list(own: Mapping[str, Limit] | None) -> None:
    """Every check: what it asks, its formula, its source, and the limits that can be edited."""
    screen = console()
    limits = {**known_limits(), **(own or {})}
    for check in ALL_CHECKS:
        screen.print(Text(f"{', '.join((check.name, *check.also))}: {check.question}", style="bold"))
        screen.print(Text(f"    {check.formula}"))
        screen.print(Text(f"    Source: {check.source}"))
        for name in check.limits:
            limit = limits[name]
            amount = f"{name} = {with_unit(f'{limit.value:g}', limit.unit)}"
            screen.print(Text(f"    {amount} ({_SORT[limit.bound]})  {limit.purpose}"))
            screen.print(Text(f"        {limit.source}", style="dim"))
        screen.print()
    screen.print("Every limit can be set under [limits] in the lamp's file, or in a file named by --limits.")


def write_list(out: TextIO, own: Mapping[str, Limit] | None) -> None:
    """The table of checks as one JSON object."""
    limits = {**known_limits(), **(own or {})}
    table = {"checks": [_row(check, limits) for check in ALL_CHECKS]}
    out.write(json_text(table, out) + "\n")


def _row(check: Check, limits: Mapping[str, Limit]) -> dict[str, Any]:
    return {
        "check": check.name,
        "also": list(check.also),
        "question": check.question,
        "formula": check.formula,
        "source": check.source,
        "limits": [
            {key: getattr(limits[name], key) for key in ("name", "value", "unit", "purpose", "source")}
            | {"bound": limits[name].bound.value}
            for name in check.limits
        ],
    }
