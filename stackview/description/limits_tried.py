"""Limits of all lengths of a kind, typed into the lamp before they are offered for one of it.

A size of a part may be 5 m, and a wall of this part 40 mm. Who wrote 1000 m is not to be told the
first, type it in, and be told the second: the lamp is read again with the limit, and where that is
refused too, its reason is told at once.
"""

from collections.abc import Callable
from copy import deepcopy
from typing import Any

from stackview.description.faults import SEPARATOR, Faults, Offer
from stackview.description.wording import node_at
from stackview.errors import Fault

_MOST_TRIED = 12
"""Limits tried for one lamp, each of which takes as long as reading it; those of further faults are not offered."""


def offers_tried(faults: Faults, read: Callable[[dict[str, Any]], Faults]) -> tuple[Fault, ...]:
    """All faults of a lamp, with no limit offered that ``read``, the faults of its tables, refuses."""
    said: dict[Fault, str] = {}
    for number, (fault, offer) in enumerate(faults.offers.items()):
        if number >= _MOST_TRIED:
            said[fault] = offer.error.untried()
            continue
        found = read(_typed_in(offer))
        why = [
            each.what
            for each in found.all()
            if each not in faults.all() and each not in found.offers and is_of_same(each.where, fault.where)
        ]
        if why:
            said[fault] = offer.error.refused_too(why[0])
    return tuple(Fault(fault.where, said.get(fault, fault.what)) for fault in faults.all())


def is_of_same(where: str, key: str) -> bool:
    """Whether a fault at ``where`` is about the thing of ``key``, in whichever copy of its layer.

    >>> is_of_same('layer "ring 2" · step', 'layer 2 (group "tier") · step · size'), is_of_same("core", "core · sunk")
    (True, True)
    >>> is_of_same("core · wall", "core · outline · circle")
    False
    """
    found, wanted = _without_layer(where), _without_layer(key)
    return bool(found) and wanted[: len(found)] == found


def _without_layer(where: str) -> list[str]:
    return [piece for piece in where.split(SEPARATOR) if not piece.startswith(("group ", "layer "))]


def _typed_in(offer: Offer) -> dict[str, Any]:
    """The tables with the limit in place of what was written, alone or in a pair."""
    tables = deepcopy(offer.tables)
    *above, key = offer.loc
    holder, error = node_at(tables, tuple(above)), offer.error
    there = holder[key]
    holder[key] = (
        [error.limit if each == error.value else each for each in there]
        if isinstance(there, list)
        else error.limit
    )
    return tables
