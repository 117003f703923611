"""One line that says what a value is, for whoever prints it: never its arrays."""

from collections.abc import Mapping, Sized
from dataclasses import fields, is_dataclass
from enum import Enum
from numbers import Real
from typing import Any

_LONGEST = 150
"""Characters of a line."""
_WORD = 40


def one_line(value: Any) -> str:
    """The ``__repr__`` of a dataclass with many or large fields: its class and what is short to say of each field.

    >>> from dataclasses import dataclass
    >>> @dataclass
    ... class Sheet:
    ...     name: str
    ...     holes: tuple[int, ...]
    ...     __repr__ = one_line
    >>> Sheet("plate 1", tuple(range(1000)))
    Sheet(name='plate 1', holes=1000 int)
    """
    said = []
    for field in fields(value):
        held = getattr(value, field.name)
        if field.repr and held is not None and not (isinstance(held, tuple) and not held):
            said.append(f"{field.name}={in_short(held)}")
    return clipped(f"{type(value).__name__}({', '.join(said)})")


def in_short(value: Any) -> str:
    """A value within a line: numbers and words themselves, of anything larger what it is and how much of it."""
    if isinstance(value, Enum):
        return str(value.name)
    if isinstance(value, bool):
        return str(value)
    if isinstance(value, Real):
        return f"{float(value):.6g}"
    if isinstance(value, str):
        return repr(clipped(value, _WORD))
    if isinstance(getattr(value, "shape", None), tuple):  # an array
        return " × ".join(map(str, value.shape)) + " " + str(getattr(value, "dtype", ""))
    if isinstance(value, tuple | list | Mapping):
        return _several(value)
    if is_dataclass(value):
        name = getattr(value, "name", None)
        return type(value).__name__ + (f" {clipped(name, _WORD)!r}" if isinstance(name, str) else "")
    text = f"{value}".replace("\n", " ")
    return type(value).__name__ if text.startswith("<") else clipped(text, _WORD)


def clipped(text: str, longest: int = _LONGEST) -> str:
    """The text, cut short where it is too long.

    >>> clipped("a long, long word", 8)
    'a long,…'
    """
    return text if len(text) <= longest else text[: longest - 1] + "…"


def _several(values: Sized) -> str:
    if isinstance(values, tuple) and len(values) <= 3 and all(isinstance(one, Real) for one in values):
        return "(" + ", ".join(in_short(one) for one in values) + ")"
    kinds = {type(one).__name__ for one in (values.values() if isinstance(values, Mapping) else values)}  # type: ignore[attr-defined]
    return f"{len(values)} {kinds.pop() if len(kinds) == 1 else 'of several kinds'}"
