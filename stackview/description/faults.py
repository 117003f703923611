"""Gathers every fault of a lamp's file, each once, with what reading on after a fault has to know."""

import difflib
from collections.abc import Hashable, Iterable
from dataclasses import dataclass, field
from typing import Any

from stackview.description.units import shown
from stackview.description.written_length import LimitError
from stackview.errors import Fault

SEPARATOR = " · "
"""Between the steps of a place."""


def near(word: str, known: Iterable[str]) -> str | None:
    """The known word nearest to a misspelt one, or None where none is near.

    >>> near("recces", ("recess", "groove"))
    'recess'
    """
    choices = {choice.lower(): choice for choice in known}
    found = difflib.get_close_matches(word.lower()[:60], choices, n=1, cutoff=0.6)
    return choices[found[0]] if found else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """``; did you mean "recess"?`` and the list of what is known, for the end of a message."""
    choices = list(known)
    match = near(word, choices)
    question = f"; did you mean {shown(match)}?" if match else ";"
    if not choices:
        return "; there are none yet"
    listed = ", ".join(shown(choice) for choice in choices[:24])
    more = f" and {len(choices) - 24} more" if len(choices) > 24 else ""
    return f"{question} known: {listed}{more}"


def place(*pieces: str) -> str:
    """Join the steps to a field: ``layer "ring" · recess · depth``."""
    return SEPARATOR.join(piece for piece in pieces if piece)


@dataclass(frozen=True, slots=True)
class Offer:
    """A limit that a fault offers: of the length at ``loc`` in ``tables``, which are not to be changed."""

    tables: dict[str, Any]
    loc: tuple[int | str, ...]
    error: LimitError


@dataclass
class Faults:
    """Collector of faults, in the order found.

    ``damaged`` holds places that lost a field which could not be read: what is absent there is
    not reported again. ``lost`` holds names of whole tables that could not be read, by kind:
    references to them are not reported. ``offers`` holds the faults that offer a limit of all lengths
    of their kind, which may be refused in this lamp.
    """

    damaged: set[str] = field(default_factory=set)
    lost: dict[str, set[str]] = field(default_factory=dict)
    offers: dict[Fault, Offer] = field(default_factory=dict)
    _found: dict[Fault, None] = field(default_factory=dict)
    _once: set[Hashable] = field(default_factory=set)

    def add(self, where: str, what: str, once: Hashable = None) -> None:
        """Keep one fault; ``once`` silences the same fault in further copies of one entry."""
        if once is not None:
            if once in self._once:
                return
            self._once.add(once)
        self._found.setdefault(Fault(where, what))

    def absent(self, where: str, what: str) -> None:
        """Keep a fault about something not given, unless it was given but could not be read."""
        if where not in self.damaged:
            self.add(where, what)

    def is_lost(self, kind: str, name: str) -> bool:
        """Whether a table of this kind and name stands in the file but could not be read."""
        return name in self.lost.get(kind, ())

    def all(self) -> tuple[Fault, ...]:
        """Every fault found so far."""
        return tuple(self._found)
