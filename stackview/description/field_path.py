"""Paths to the fields of a lamp's file, as a maker writes them: ``layer.ring.wall``, ``light.0.helix.pitch``.

Keys stand between points. Entries of a list are called by their names or by their numbers, which
begin at 0; a name with points or quotes in it stands in quotes, as does one made of figures alone.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from stackview.description.faults import did_you_mean
from stackview.description.limits_table import known_limits
from stackview.description.stack_order import Copy
from stackview.description.toml_places import Loc
from stackview.description.units import shown
from stackview.description.wording import NAMED_LISTS, NAMED_TABLES, model_in, unknown_key
from stackview.description.written_lamp import WrittenLamp
from stackview.description.written_layer import LayerBody, WrittenGroup, WrittenLayer
from stackview.description.written_light import LAYOUT_KEYS, light_names

_LONGEST_PATH = 400
_STEP = re.compile(r"""\s*(?:"((?:[^"\\]|\\.)*)"|'([^']*)'|([^."']+?))\s*(\.|$)""")
_PLAIN = re.compile(r"[^\s.\"'\\](?:[^.\"'\\]*[^\s.\"'\\])?")
_FIGURES = re.compile(r"[0-9]{1,9}")
_HOW_TO = "write keys with points between, such as layer.ring.wall or light.0.helix.pitch"


class PathError(ValueError):
    """A path that leads nowhere; the message is meant for the maker."""


@dataclass(frozen=True, slots=True)
class Found:
    """Where a path leads: the place in the tables, and what may stand there."""

    loc: Loc
    table: type[BaseModel] | None
    """The table whose key it is; None for an entry of a list or a table of named entries."""

    @property
    def key(self) -> str:
        """The last key."""
        return str(self.loc[-1])


def steps_of(path: object) -> list[str | int]:
    """The steps of a path; bare figures are numbers.

    >>> steps_of('layer."base plate".opening.1.circle')
    ['layer', 'base plate', 'opening', 1, 'circle']

    Raises
    ------
    PathError
        it is no path
    """
    if not isinstance(path, str) or not path.strip() or len(path) > _LONGEST_PATH:
        raise PathError(f"is no path of 1 to {_LONGEST_PATH} characters: {_HOW_TO}")
    steps: list[str | int] = []
    at = 0
    while True:
        found = _STEP.match(path, at)
        if found is None:
            raise PathError(f"is no path: {_HOW_TO}")
        quoted, single, bare, point = found.groups()
        if bare is not None:
            steps.append(int(bare) if _FIGURES.fullmatch(bare) else bare)
        else:
            steps.append(re.sub(r"\\(.)", r"\1", quoted) if quoted is not None else single)
        if not point:
            return steps
        at = found.end()


def spelt(steps: Sequence[str | int]) -> str:
    """A path from its steps, names in quotes where they hold a space, a point or a quote, or are a number.

    >>> spelt(["layer", "base", "size", 0]), spelt(["layer", "base plate"])
    ('layer.base.size.0', 'layer."base plate"')
    """
    return ".".join(str(step) if isinstance(step, int) else _spelt(step) for step in steps)


def _spelt(step: str) -> str:
    if _PLAIN.fullmatch(step) and not _FIGURES.fullmatch(step) and " " not in step:
        return step
    return '"' + step.replace("\\", "\\\\").replace('"', '\\"') + '"'


def entry_names(kind: str, entries: Sequence[Any]) -> list[str | None]:
    """What the entries of a list are called: their names, a placed group by the group's, a light by its kind.

    A sheet without a name is called by its number.
    """
    tables = [entry if isinstance(entry, dict) else {} for entry in entries]
    if kind == "light":
        kinds = [[key for key in LAYOUT_KEYS if key in table] for table in tables]
        return light_names(
            [(_text(table.get("name")), given) for table, given in zip(tables, kinds, strict=True)]
        )
    if kind == "sheet":
        return [_text(table.get("name")) or f"sheet {number}" for number, table in enumerate(tables, 1)]
    return [_text(table.get("name")) or _text(table.get("group")) for table in tables]


def _text(value: object) -> str | None:
    return value if isinstance(value, str) else None


@dataclass(frozen=True, slots=True)
class Paths:
    """Finds paths in a lamp's tables; ``copies`` is asked only where a name is no entry's."""

    tables: Mapping[str, Any]
    copies: Callable[[], Sequence[Copy]]

    def find(self, path: object) -> Found:
        """Where a path leads, whether something is written there or not.

        Raises
        ------
        PathError
            a key or a name that is not known, or a name that several have
        """
        steps = steps_of(path)
        top, rest = steps[0], steps[1:]
        fields = WrittenLamp.model_fields
        if not isinstance(top, str) or top not in fields:
            raise PathError(unknown_key(str(top), list(fields), top=True))
        node = self.tables.get(top)
        if top == "limits" and rest:
            return self._limit(rest)
        if not rest or (top not in NAMED_LISTS and top not in NAMED_TABLES):
            return self._within(WrittenLamp, self.tables, (), steps)
        if top in NAMED_LISTS:
            index, table = self._entry(top, (top,), node, rest)
            return self._below(_model(top, table), table, (top, index), rest[1:])
        return self._named(top, node, rest)

    def _limit(self, rest: list[str | int]) -> Found:
        name, known = str(rest[0]), known_limits()
        if name not in known and name not in (self.tables.get("limits") or {}):
            raise PathError(f"no limit is called {shown(name)}{did_you_mean(name, known)}")
        if len(rest) > 1:
            raise PathError(f"a limit is a number, with nothing within: write limits.{name}")
        return Found(("limits", name), None)

    def _named(self, top: str, node: Any, rest: list[str | int]) -> Found:
        """A table of named ones: ``materials.walnut.sold``, ``groups.tier.ring.wall``."""
        name = str(rest[0])
        known = node if isinstance(node, dict) else {}
        if name not in known and len(rest) > 1:
            kind = NAMED_TABLES[top]
            raise PathError(f"no {kind} {shown(name)} under [{top}]{did_you_mean(name, known)}")
        loc: Loc = (top, name)
        if len(rest) == 1:
            return Found(loc, None)
        table = known[name]
        if top == "groups":
            index, table = self._entry(f"groups.{_spelt(name)}", loc, table, rest[1:])
            return self._below(LayerBody, table, (*loc, index), rest[2:])
        return self._below(model_in(WrittenLamp.model_fields[top].annotation), table, loc, rest[1:])

    def _below(self, model: type[BaseModel] | None, table: Any, loc: Loc, rest: list[str | int]) -> Found:
        if not rest:
            return Found(loc, None)
        assert model is not None
        return self._within(model, table, loc, rest)

    # --- entries of lists ------------------------------------------------------------------------

    def _entry(self, spoken: str, loc: Loc, node: Any, rest: list[str | int]) -> tuple[int, Any]:
        """Number and table of the entry that the first step of ``rest`` names."""
        entries = node if isinstance(node, list) else []
        step = rest[0]
        if isinstance(step, int):
            # one behind the last is where an entry can be added
            if step > len(entries) or (step == len(entries) and len(rest) > 1):
                raise PathError(_no_number(spoken, step, len(entries)))
            return step, entries[step] if step < len(entries) else {}
        kind = str(loc[0])
        names = entry_names(kind, entries)
        meant = [index for index, name in enumerate(names) if name == step]
        if len(meant) == 1:
            return meant[0], entries[meant[0]]
        if meant:
            numbers = " or ".join(spelt([*loc, index, *rest[1:]]) for index in meant)
            raise PathError(f"{len(meant)} entries are called {shown(step)}: write {numbers}")
        if kind == "layer":
            self._is_no_copy(step, rest[1:])
        known = [name for name in names if name]
        word = "layer" if kind == "groups" else kind
        where = f" in group {shown(str(loc[1]))}" if kind == "groups" else ""
        raise PathError(f"no {word} is called {shown(step)}{where}{did_you_mean(step, known)}")

    def _is_no_copy(self, name: str, rest: list[str | int]) -> None:
        """Say which entry a layer of the stack is a copy of, where ``name`` is no entry's own."""
        copies = self.copies()
        meant = [copy for copy in copies if copy.name == name]
        if meant:
            copy = meant[0]
            alike = [other for other in copies if other.entry == copy.entry]
            every = "both" if len(alike) == 2 else f"all {len(alike)}"
            moves = f", which moves {every} copies" if len(alike) > 1 else ""
            change = self._change(copy, rest)
            if copy.entry[0] == "groups":
                is_ = "is a copy from" if moves else "stands in"
                raise PathError(
                    f"{shown(name)} {is_} group {shown(str(copy.entry[1]))}: change {change}{moves}"
                )
            own = shown(str(self.spoken(copy.entry)[-1]))
            raise PathError(f"{shown(name)} is a copy of layer {own}: change {change}{moves}")
        meant = [copy for copy in copies if copy.name.rpartition(" ")[0] == name and copy.repeated]
        if meant:
            ways = list(dict.fromkeys(self._change(copy, rest) for copy in meant))
            raise PathError(
                f"{shown(meant[0].name)} to {shown(meant[-1].name)} are copies: change {' or '.join(ways)}"
            )

    def _change(self, copy: Copy, rest: list[str | int]) -> str:
        """The path that changes a copy; what repeats it stands where its group is placed."""
        own = copy.entry if not rest or rest[0] in LayerBody.model_fields else copy.placed
        return spelt([*self.spoken(own), *rest])

    # --- keys ------------------------------------------------------------------------------------

    def _within(self, model: type[BaseModel], table: Any, loc: Loc, rest: list[str | int]) -> Found:
        """A key of a table, and what lies below it."""
        key = rest[0]
        fields = {info.alias or name: info for name, info in model.model_fields.items()}
        if not isinstance(key, str) or key not in fields:
            deeper = self._deeper(fields, table, loc, rest)
            if deeper:
                raise PathError(f"unknown key {shown(str(key))}; did you mean {' or '.join(deeper)}?")
            raise PathError(unknown_key(str(key), list(fields), top=model is WrittenLamp))
        loc = (*loc, key)
        if len(rest) == 1:
            return Found(loc, model)
        node = table.get(key) if isinstance(table, dict) else None
        inner = model_in(fields[key].annotation)
        return (
            self._item(node, loc, rest[1:])
            if inner is None
            else self._inside(inner, node, loc, rest[1:], many=get_origin(fields[key].annotation) is list)
        )

    def _deeper(
        self, fields: Mapping[str, FieldInfo], table: Any, loc: Loc, rest: list[str | int]
    ) -> list[str]:
        """Paths of the same key within tables that are written here, where one was left out on the way."""
        found = []
        for name, info in fields.items():
            inner = model_in(info.annotation)
            node = table.get(name) if isinstance(table, Mapping) else None
            keys = () if inner is None else {each.alias or own for own, each in inner.model_fields.items()}
            if rest[0] in keys and isinstance(node, dict):
                found.append(spelt([*self.spoken(loc), name, *rest]))
        return found

    def _item(self, node: Any, loc: Loc, rest: list[str | int]) -> Found:
        """One of the numbers or words of a list such as ``size = [60, 8]``."""
        if not isinstance(node, list):
            found = "is not written" if node is None else f"is {shown(node)}"
            raise PathError(f"{shown(str(loc[-1]))} {found}, with nothing within: write the whole of it")
        step = rest[0]
        if len(rest) > 1 or not isinstance(step, int) or step >= len(node):
            raise PathError(
                f"{shown(str(loc[-1]))} is a list of {len(node)}: write a number from 0 to {len(node) - 1}"
            )
        return Found((*loc, step), None)

    def _inside(
        self, model: type[BaseModel], node: Any, loc: Loc, rest: list[str | int], *, many: bool
    ) -> Found:
        """Below a key that holds a table, or several."""
        key, step = str(loc[-1]), rest[0]
        if isinstance(node, str):
            if key != "outline":
                raise PathError(f"{shown(key)} is {shown(node)}, with nothing within: write the whole of it")
            there = spelt(["outlines", node, *rest])
            raise PathError(
                f"the outline is the one called {shown(node)}: change {there}, or write a shape here"
            )
        if not isinstance(step, int):
            if isinstance(node, list) and len(node) != 1:
                ways = " or ".join(f"{key}.{index}" for index in range(len(node)))
                raise PathError(f"{len(node)} entries stand under {shown(key)}: write {ways}")
            if isinstance(node, list):
                return self._within(model, node[0], (*loc, 0), rest)
            return self._within(model, node, loc, rest)
        if not many:
            raise PathError(f"{shown(key)} is one table, not a list: leave the number out")
        if isinstance(node, list) and step < len(node):
            return self._below(model, node[step], (*loc, step), rest[1:])
        if step == 0 and node is not None:
            return self._below(model, node, loc, rest[1:])
        if isinstance(node, list) and step == len(node) and len(rest) == 1:
            return Found((*loc, step), None)
        count = len(node) if isinstance(node, list) else int(node is not None)
        raise PathError(_no_number(key, step, count))

    # --- the other way round ---------------------------------------------------------------------

    def spoken(self, loc: Loc) -> Loc:
        """A place with its entries called by their names, where a name is one entry's alone."""
        depth = 1 if loc[0] in NAMED_LISTS else 2 if loc[0] == "groups" else 0
        number = loc[depth] if depth and len(loc) > depth else None
        if not isinstance(number, int):
            return loc
        node: Any = self.tables
        for step in loc[:depth]:
            node = node[step]
        names = entry_names(str(loc[0]), node)
        name = names[number] if number < len(names) else None
        own = name if name and names.count(name) == 1 else number
        return (*loc[:depth], own, *loc[depth + 1 :])


def _no_number(spoken: str, step: int, count: int) -> str:
    has = f"entries 0 to {count - 1}" if count > 1 else "entry 0 alone" if count else "no entries"
    return f"no number {step}: {spoken} has {has}"


def _model(top: str, table: Any) -> type[BaseModel] | None:
    if top == "layer":
        return WrittenGroup if isinstance(table, dict) and "group" in table else WrittenLayer
    return model_in(WrittenLamp.model_fields[top].annotation)
