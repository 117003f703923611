"""Every number that a lamp's file writes, with its path, and what it moves."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from stackview.description.field_path import Paths, spelt
from stackview.description.lamp import Lamp
from stackview.description.limits_table import own_limit
from stackview.description.material import Length
from stackview.description.moved import Moved
from stackview.description.stack_order import Copy
from stackview.description.toml_places import Loc
from stackview.description.units import Units
from stackview.description.written_lamp import WrittenLamp

_CHECKS = ("the checks",)


@dataclass(frozen=True, slots=True)
class Number:
    """One number of a lamp's file that a maker could change."""

    path: str
    written: int | float | str
    """As the file has it: ``0.6``, ``"5-1/2 in"``."""
    value: float
    """Lengths in millimetres, all else in the unit of its key."""
    is_length: bool
    is_whole: bool
    """Whether it counts something, so that only whole numbers will do."""
    layers: tuple[str, ...]
    """Layers of the stack, by name, that are written with it: all copies of its entry, or all that
    name its outline or its material. Empty for what belongs to no layer, or to the whole lamp."""
    moves: tuple[str, ...]
    """What can be of another size, place, number or kind where it changes, what merely stands on that
    left out: layers by name, among them those whose recess is fitted to another one, then ``the core``,
    ``post "pins"``, ``light "runs"``, ``eye "seated"``, ``the surface``, ``the checks`` and their like."""


def numbers_in(
    written: WrittenLamp, tables: Mapping[str, Any], paths: Paths, copies: Sequence[Copy], lamp: Lamp
) -> tuple[Number, ...]:
    """All numbers in the order of the file's keys.

    ``tables`` are those that ``written`` was read from, ``copies`` the layers of its stack, ``lamp``
    what they come to.
    """
    moved = Moved(tables, copies, lamp)
    made = []
    for loc, value in _numbers(written, tables, ()):
        if isinstance(value, Length):
            number, is_length = value.mm, True
        else:
            number, is_length = float(value), False
        made.append(
            Number(
                path=spelt(paths.spoken(loc)),
                written=_written(tables, loc),
                value=number,
                is_length=is_length,
                is_whole=isinstance(value, int),
                layers=moved.layers(loc),
                moves=moved.parts(loc),
            )
        )
    for name in tables.get("limits", {}):
        limit = own_limit(name, tables["limits"][name], Units(written.unit))
        found = tables["limits"][name]
        made.append(
            Number(spelt(["limits", name]), found, limit.value, limit.unit == "mm", False, (), _CHECKS)
        )
    return tuple(made)


def _written(tables: Any, loc: Loc) -> Any:
    for step in loc:
        tables = tables[step]
    return tables


def _numbers(value: Any, table: Any, loc: Loc) -> Iterator[tuple[Loc, Length | int | float]]:
    """Numbers of one value of the model; ``table`` is what the file has there."""
    if isinstance(value, bool | str) or value is None:
        return
    if isinstance(value, Length | int | float):
        yield loc, value
    elif isinstance(value, BaseModel):
        for name, info in type(value).model_fields.items():
            key = info.alias or name
            if key in table and name != "limits":
                yield from _numbers(getattr(value, name), table[key], (*loc, key))
    elif isinstance(value, dict):
        for name, each in value.items():
            yield from _numbers(each, table[name], (*loc, name))
    elif isinstance(value, list | tuple):
        for index, each in enumerate(value):
            if isinstance(table, list):
                yield from _numbers(each, table[index], (*loc, index))
            else:
                # a single entry may be written without the brackets of a list
                yield from _numbers(each, table, loc)
