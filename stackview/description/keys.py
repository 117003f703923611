"""Every key of a lamp's file, with what it means and takes, and what holds where it is left out.

Taken from the same JSON Schema that editors complete by, and from the table of defaults.
"""

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cache
from typing import Any

from stackview.description.usual import fixed_default
from stackview.description.written_lamp import schema
from stackview.errors import StackviewError

_AS_TOML = {
    "array": "[[{path}]]",
    "object": "[{path}]",
    "named": "[{path}.NAME]",
    "named arrays": "[[{path}.NAME]]",
}
LIMITS = "limits"
"""The table whose keys are the checks' own limits: shown only when asked for."""


@dataclass(frozen=True, slots=True)
class FileKey:
    """One key of a lamp's file."""

    path: str
    """Where it stands, e.g. ``light.helix.pitch``."""
    meaning: str
    takes: str
    """What may be written, e.g. "a length" or "a number, 1 to 180"."""
    default: str
    """What holds where it is left out; empty where the meaning says it, or nothing does."""
    why: str
    """Why that is the default; empty where there is none."""
    example: str
    """A line of the file."""
    needed: bool = False
    """Whether it must be given."""

    @property
    def name(self) -> str:
        """The key alone, without the tables that it stands in."""
        return self.path.rpartition(".")[2]


@dataclass(frozen=True, slots=True)
class KeyTable:
    """One table of a lamp's file and its keys."""

    path: str
    """Where it stands; empty for the head of the file."""
    heading: str
    """As TOML writes it, e.g. ``[[layer]]``."""
    meaning: str
    keys: tuple[FileKey, ...]


@cache
def every_table() -> tuple[KeyTable, ...]:
    """All tables, each once, from the head of the file inwards."""
    whole = schema()
    head = KeyTable(
        "",
        "at the head of the file",
        str(whole["description"]),
        _keys("WrittenLamp", whole, "", whole["$defs"]),
    )
    found = {"WrittenLamp": head}
    # groups hold layers: what layers take is told there, and once
    waiting = deque(sorted(_inner(whole["properties"], ""), key=lambda each: each[1] == "groups"))
    while waiting:
        name, path, heading = waiting.popleft()
        if name in found:
            continue
        table = whole["$defs"][name]
        keys = _keys(name, table, path, whole["$defs"])
        found[name] = _once(
            KeyTable(path, heading, str(table.get("description", "")), keys), tuple(found.values())
        )
        waiting.extend(_inner(table["properties"], path))
    order = [key.name for key in head.keys]
    inner = [table for table in found.values() if table.path]
    inner.sort(key=lambda table: order.index(table.path.partition(".")[0]))
    return (head, *inner, _limits(whole))


def _once(table: KeyTable, told: tuple[KeyTable, ...]) -> KeyTable:
    """The table without keys that a table of the same path has told, or with none where another has them all."""
    meanings = {(key.name, key.meaning) for key in table.keys}
    for other in told:
        others = {(key.name, key.meaning) for key in other.keys}
        if other.path and meanings <= others:
            return replace(table, meaning=f"Layers placed together; keys as in {other.heading}.", keys=())
        if other.path and others and others < meanings:
            more = tuple(key for key in table.keys if (key.name, key.meaning) not in others)
            return replace(table, meaning=f"{table.meaning} Keys as in {other.heading}, and:", keys=more)
    own = {key.path for other in told if other.path == table.path for key in other.keys}
    return replace(table, keys=tuple(key for key in table.keys if key.path not in own))


def keys_about(word: str) -> tuple[FileKey, ...]:
    """The keys that a word is about: those named so, or else all whose path or meaning has the word.

    Raises
    ------
        StackviewError: no key has anything to do with the word; its message has the nearest ones.
    """
    every = [key for table in every_table() for key in table.keys]
    asked = word.strip().casefold()
    named = [key for key in every if asked in (key.name.casefold(), key.path.casefold())]
    inside = [key for key in every if f".{asked}." in f".{key.path.casefold()}"]
    told = [key for key in every if asked in key.path.casefold() or asked in key.meaning.casefold()]
    found = ([*named, *inside] or told) if asked else []
    if not found:
        near = get_close_matches(asked, dict.fromkeys(key.name for key in every), n=3, cutoff=0.6)
        hint = f"did you mean {' or '.join(near)}?" if near else "`stackview keys` lists them all."
        raise StackviewError(f'no key of a lamp\'s file has to do with "{word}": {hint}')
    return tuple(dict.fromkeys(found))


def _inner(properties: Mapping[str, Any], path: str) -> Iterator[tuple[str, str, str]]:
    """Tables that keys hold: name in the schema, path, and how TOML writes them."""
    for key, written in properties.items():
        own = f"{path}.{key}" if path else key
        for name in _tables_of(written):
            yield name, own, _heading(written, own)


def _heading(written: Mapping[str, Any], path: str) -> str:
    """The line that begins a key's table, or each one of several."""
    if written.get("type") == "array" and "." not in path:
        form = "array"
    elif isinstance(named := written.get("additionalProperties"), Mapping):
        form = "named arrays" if named.get("type") == "array" else "named"
    else:
        form = "object"
    return _AS_TOML[form].format(path=path)


def _tables_of(written: object) -> Iterator[str]:
    if isinstance(written, Mapping):
        if "$ref" in written:
            yield str(written["$ref"]).rpartition("/")[2]
        for value in written.values():
            yield from _tables_of(value)
    elif isinstance(written, list):
        for value in written:
            yield from _tables_of(value)


def _keys(name: str, table: Mapping[str, Any], path: str, tables: Mapping[str, Any]) -> tuple[FileKey, ...]:
    needed = table.get("required", ())
    return tuple(
        _key(name, f"{path}.{key}" if path else key, written, tables, needed=key in needed)
        for key, written in table["properties"].items()
    )


def _key(
    table: str, path: str, written: Mapping[str, Any], tables: Mapping[str, Any], *, needed: bool
) -> FileKey:
    name = path.rpartition(".")[2]
    default = fixed_default(table, name)
    meaning = str(written.get("description", ""))
    shown, why = (default.words, default.why) if default is not None else (_own_default(written), "")
    inner = next(_tables_of(written), "")
    if (inner or "properties" in written) and "." not in path:
        example = _heading(written, path)
    else:
        value = _example(written) or (_of_table(tables[inner]) if inner else "")
        example = f"{name} = {value}" if value else ""
    return FileKey(path, meaning, _takes(written), "" if needed else shown, why, example, needed)


def _of_table(table: Mapping[str, Any]) -> str:
    """A table in one line, with what must be given, or the first key that shows how; empty where that is a name."""
    shown = {key: _example(written) for key, written in table["properties"].items()}
    needed = table.get("required", ()) or [key for key in shown if shown[key]][:1]
    if not needed or not all(shown[key] for key in needed):
        return ""
    return f"{{ {', '.join(f'{key} = {shown[key]}' for key in needed)} }}"


def _own_default(written: Mapping[str, Any]) -> str:
    own = written.get("default")
    if own is None or isinstance(own, list | dict):
        return ""
    return (
        ("true" if own else "false")
        if isinstance(own, bool)
        else (f"{own:g}" if isinstance(own, float) else str(own))
    )


def _limits(whole: Mapping[str, Any]) -> KeyTable:
    table = whole["properties"][LIMITS]
    keys = tuple(
        FileKey(f"{LIMITS}.{name}", str(written["description"]), _takes(written), "", "", "", False)
        for name, written in table["properties"].items()
    )
    return KeyTable(LIMITS, f"[{LIMITS}]", str(table["description"]), keys)


def _takes(written: Mapping[str, Any]) -> str:
    """What may be written for a key, in words."""
    forms = list(dict.fromkeys(_forms(written)))
    return " or ".join(forms)


def _forms(written: Mapping[str, Any]) -> Iterator[str]:
    choices = [
        one for one in (*written.get("anyOf", ()), *written.get("oneOf", ())) if one.get("type") != "null"
    ]
    if "enum" in written:
        yield ", ".join(f'"{one}"' for one in written["enum"])
    elif _is_length(written):
        yield "a length"
    elif choices:
        for one in choices:
            yield from _forms(one)
    elif "$ref" in written or "additionalProperties" in written:
        yield "a table"
    elif written.get("type") == "array":
        yield _many(written)
    elif written.get("type") == "boolean":
        yield "true or false"
    elif written.get("type") in ("number", "integer"):
        kind = "a whole number" if written["type"] == "integer" else "a number"
        limits = f", {written['minimum']:g} to {written['maximum']:g}" if "minimum" in written else ""
        yield f"{kind}{limits}"
    else:
        yield "a text"


def _many(written: Mapping[str, Any]) -> str:
    inner = next(_forms(written["items"]))
    count = written.get("minItems") if written.get("minItems") == written.get("maxItems") else None
    one = inner.removeprefix("a ")
    return f"{count} {one}s in brackets" if count else f"a list of {one}s"


def _is_length(written: Mapping[str, Any]) -> bool:
    return any("pattern" in one and one.get("maxLength") == 40 for one in written.get("anyOf", ()))


def _example(written: Mapping[str, Any]) -> str:
    """A value as TOML writes it; empty for tables."""
    if "enum" in written:
        return f'"{written["enum"][0]}"'
    if _is_length(written):
        return '"5.6 mm"'
    if written.get("examples"):
        first = written["examples"][-1]
        return f'"{first}"' if isinstance(first, str) else f"{first:g}"
    for one in (*written.get("anyOf", ()), *written.get("oneOf", ())):
        found = _example(one)
        if found:
            return found
    if written.get("type") == "array" and written.get("minItems", 0) == written.get("maxItems", -1):
        return f"[{', '.join([_example(written['items'])] * written['minItems'])}]"
    return "true" if written.get("type") == "boolean" else ""
