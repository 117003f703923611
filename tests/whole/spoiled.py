"""One thing of a lamp spoiled by chance: a number at or beyond an edge, a key left out, doubled or misspelt."""

from collections.abc import Iterator
from typing import Any

from tests.whole.chance import Chance, Table

Place = tuple[str | int, ...]
_EDGES: tuple[Any, ...] = (
    0,
    0.01,
    0.05,
    1,
    -1,
    1e-6,
    5000,
    20000,
    1e9,
    "0.01 mm",
    "5 m",
    "3/64 in",
    "1 ft",
    "0 mm",
)


def spoil(lamp: Table, chance: Chance) -> None:
    """Change one thing of a lamp, in place: mostly a number, by a factor or to one at an edge."""
    numbers = [place for place in places_of(lamp) if _is_number(at(lamp, place))]
    every = list(places_of(lamp))
    way = chance.one("factor", "factor", "factor", "edge", "edge", "out", "double", "wrong")
    place = chance.one(*(numbers if way in ("factor", "edge") and numbers else every))
    holder, last = at(lamp, place[:-1]), place[-1]
    if way == "factor":
        value = holder[last]
        if _is_number(value):
            new = value * chance.one(0.1, 0.5, 0.9, 1.1, 2, 3, 10)
            holder[last] = round(new) if isinstance(value, int) else round(new, 5)
    elif way == "edge":
        holder[last] = chance.one(*_EDGES)
    elif way == "out":
        del holder[last]
    elif way == "double" and isinstance(holder, list):
        holder.append(holder[last])
    elif way == "wrong" and isinstance(last, str):
        holder[last] = chance.one("", "x", True, [], {}, "ring 1", "é" * 61)


def places_of(node: Any, above: Place = ()) -> Iterator[Place]:
    """Where every value of a lamp's tables stands, tables and lists too."""
    for step, value in node.items() if isinstance(node, dict) else enumerate(node):
        yield (*above, step)
        if isinstance(value, dict | list):
            yield from places_of(value, (*above, step))


def at(lamp: Any, place: Place) -> Any:
    """What stands at a place."""
    for step in place:
        lamp = lamp[step]
    return lamp


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
