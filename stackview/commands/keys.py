"""``stackview keys``: every key of a lamp's file, or those that a word is about."""

from typing import Annotated

from cyclopts import Parameter
from rich.console import Console
from rich.text import Text

from stackview.description.keys import FileKey, KeyTable

_KEY_COLUMN = 22


def keys(
    word: Annotated[str | None, Parameter(help="A key, a table, or any word of its meaning.")] = None, /
) -> int:
    """What a lamp's file may say: each key's meaning, what it takes, its default and why, an example."""
    from stackview.commands.summary import console
    from stackview.description.keys import LIMITS, every_table, keys_about

    screen = console()
    if word is not None:
        for key in keys_about(word):
            _in_full(screen, key)
        return 0
    for table in every_table():
        if table.path == LIMITS:
            _heading(screen, table)
            _wrapped(screen, f"{len(table.keys)} limits of the checks; `stackview keys limits` has them.", 2)
        else:
            _listed(screen, table)
    screen.print()
    _wrapped(
        screen, "`stackview keys WORD` says more of a key: what it takes, its default and why, an example.", 0
    )
    return 0


def _listed(screen: Console, table: KeyTable) -> None:
    _heading(screen, table)
    for key in table.keys:
        default = f" Default {key.default}." if key.default and "default" not in key.meaning else ""
        needed = " Must be given." if key.needed else ""
        name = f"  {key.name}"
        lead = name if len(name) < _KEY_COLUMN - 1 else f"{name} "
        _wrapped(screen, f"{key.meaning}{default}{needed}", _KEY_COLUMN, lead)


def _heading(screen: Console, table: KeyTable) -> None:
    screen.print()
    screen.print(Text.assemble((table.heading, "bold"), f"  {table.meaning}"))


def _in_full(screen: Console, key: FileKey) -> None:
    screen.print(Text(key.path, style="bold"))
    _wrapped(screen, key.meaning, 4)
    needed = "; must be given" if key.needed else ""
    _wrapped(screen, f"Takes {key.takes}{needed}.", 4)
    if key.default:
        _wrapped(screen, f"Left out: {key.default}{f': {key.why}' if key.why else ''}.", 4)
    if key.example:
        _wrapped(screen, f"Example: {key.example}", 4)


def _wrapped(screen: Console, text: str, indent: int, lead: str = "") -> None:
    """A text in a column of its own, behind a lead that stands before its first line."""
    from textwrap import wrap

    for number, line in enumerate(wrap(text, max(screen.width - indent, 20))):
        screen.print((lead.ljust(indent) if number == 0 else " " * indent) + line, soft_wrap=True)
