"""Changes to a lamp's tables: what a change may be, and the tables with it; what is untouched is shared."""

from collections.abc import Mapping, Sequence
from numbers import Integral, Real
from typing import Any

from stackview.description.toml_places import Loc
from stackview.description.units import shown
from stackview.description.wording import NAMED_TABLES

MOST_CHANGES = 1000
"""Changes in one step."""
_MOST_PIECES = 10_000
"""Numbers, words and keys in one changed value."""
_LONGEST_WORD = 1000
_MOST_NESTING = 8
_OF_NAMED = {*NAMED_TABLES, "limits"}


def plain(value: object) -> Any:
    """A value as a file can hold it, in a copy of its own: numbers, texts, true and false, lists and tables.

    Raises
    ------
    ValueError
        it is something else, or too large; the message is meant for the maker
    """
    return _plain(value, [0], 0)


def _plain(value: object, count: list[int], depth: int) -> Any:
    count[0] += 1
    if count[0] > _MOST_PIECES or depth > _MOST_NESTING:
        raise ValueError(
            f"is a value of more than {_MOST_PIECES} pieces, or nested too deep: write a smaller one"
        )
    if isinstance(value, bool):
        return value
    if isinstance(value, str):
        if len(value) > _LONGEST_WORD or not value.isprintable():
            raise ValueError(
                f"{shown(value)} cannot be written: at most {_LONGEST_WORD} characters, in one line"
            )
        return str(value)
    if isinstance(value, Integral):
        whole = int(value)
        if abs(whole) >= 2**63:
            raise ValueError(f"{shown(whole)} is too large a number: check it")
        return whole
    if isinstance(value, Real):
        return float(value)
    if isinstance(value, Mapping):
        if not all(
            isinstance(key, str) and 0 < len(key) <= _LONGEST_WORD and key.isprintable() for key in value
        ):
            raise ValueError("is a table with a key that is no word: write texts as keys")
        return {str(key): _plain(each, count, depth + 1) for key, each in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, bytes | bytearray):
        return [_plain(each, count, depth + 1) for each in value]
    if value is None:
        raise ValueError("holds None: leave the key out of the table instead")
    raise ValueError(
        f"{type(value).__name__} cannot be written: give a number, a text, True or False, a list or a table"
    )


def with_changes(tables: dict[str, Any], changes: Sequence[tuple[Loc, Any]]) -> dict[str, Any]:
    """New tables with every change made; a value of None takes its key or its entry away.

    Places are those of ``tables``, whatever the other changes take away. Named tables and lists
    that are left empty go too.
    """
    made: Any = tables
    for loc, value in changes:
        if value is not None:
            made = _set(made, loc, value)
    gone = [loc for loc, value in changes if value is None]
    # of one list, later entries first, so that the numbers of the earlier ones still hold
    for loc in sorted(gone, key=lambda loc: [(isinstance(s, int), s) for s in loc], reverse=True):
        made = _without(made, loc)
    return made if isinstance(made, dict) else {}


def _set(node: Any, loc: Loc, value: Any) -> Any:
    if not loc:
        return value
    step, rest = loc[0], loc[1:]
    if isinstance(step, int):
        entries = list(node) if isinstance(node, list) else []
        if step < len(entries):
            entries[step] = _set(entries[step], rest, value)
        else:
            entries.append(_set(None, rest, value))
        return entries
    table = dict(node) if isinstance(node, dict) else {}
    table[step] = _set(table.get(step), rest, value)
    return table


def _without(node: Any, loc: Loc, *, named: bool = False) -> Any:
    """What is left of tables or a list, None for nothing; ``named`` where each key names a table of its own."""
    step, rest = loc[0], loc[1:]
    if isinstance(step, int):
        inner = _without(node[step], rest) if rest else None
        return [*node[:step], *([] if inner is None else [inner]), *node[step + 1 :]] or None
    inner = _without(node[step], rest, named=step in _OF_NAMED) if rest else None
    table = {key: each for key, each in node.items() if key != step or inner is not None}
    if inner is not None:
        table[step] = inner
    return table if table or not named else None
