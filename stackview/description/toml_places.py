"""Where each table, key and value of a TOML text stands, to the character.

For text that :mod:`tomllib` has read without complaint: what is sound TOML is decided there, and
here only where its pieces begin and end (TOML 1.0.0, https://toml.io/en/v1.0.0).
"""

import re
import tomllib
from dataclasses import dataclass

Loc = tuple[str | int, ...]
"""Keys and list numbers from the top of the file down to one place."""

_SKIP = re.compile(r"(?:[ \t\n\r]|#[^\n]*)*")
_GAP = re.compile(r"[ \t]*")
_KEY = re.compile(r'"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|[A-Za-z0-9_-]+')
_PLAIN = re.compile(
    r'"""(?:\\.|[^\\])*?"""(?:"{0,2})'
    r"|'''.*?'''(?:'{0,2})"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'"
    r"|[^\s,\]}#]+(?: [0-9]{2}:[^\s,\]}#]+)?",  # a day and a time may have a space between
    re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class Plain:
    """A number, a text, true or false: from ``start`` to just before ``end``."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Listed:
    """A list in brackets."""

    start: int
    end: int
    parts: tuple["Value", ...]


@dataclass(frozen=True, slots=True)
class Inline:
    """A table in braces."""

    start: int
    end: int
    items: tuple["Item", ...]


Value = Plain | Listed | Inline


@dataclass(frozen=True, slots=True)
class Item:
    """``key = value``, the key in its steps: ``outline.circle`` has two."""

    key: tuple[str, ...]
    start: int
    value: Value

    @property
    def end(self) -> int:
        """Just behind the value."""
        return self.value.end


@dataclass(frozen=True, slots=True)
class Section:
    """A header with the keys below it, up to the next header; the first has no header."""

    loc: Loc
    start: int
    """Where its header begins, or the text."""
    head_end: int
    """Just behind the header's closing bracket."""
    items: tuple[Item, ...]

    @property
    def end(self) -> int:
        """Just behind its last value, or behind its header where it has none."""
        return self.items[-1].end if self.items else self.head_end


def sections_of(text: str) -> tuple[Section, ...]:
    """The sections of a sound TOML text, in its order."""
    return _Reader(text).sections()


class _Reader:
    """Reads on from ``at``; each method leaves it just behind what it has read."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 1 if text.startswith("\ufeff") else 0
        self.counts: dict[Loc, int] = {}

    def sections(self) -> tuple[Section, ...]:
        made: list[Section] = []
        loc: Loc = ()
        start = head_end = self.at
        items: list[Item] = []
        while self._skip(_SKIP) < len(self.text):
            if self.text[self.at] != "[":
                items.append(self._item())
                continue
            made.append(Section(loc, start, head_end, tuple(items)))
            start, items = self.at, []
            loc = self._header()
            head_end = self.at
        return (*made, Section(loc, start, head_end, tuple(items)))

    def _skip(self, what: re.Pattern[str]) -> int:
        found = what.match(self.text, self.at)
        assert found is not None
        self.at = found.end()
        return self.at

    def _header(self) -> Loc:
        listed = self.text.startswith("[[", self.at)
        self.at += 2 if listed else 1
        keys = self._keys()
        self.at += 2 if listed else 1
        loc: Loc = ()
        for key in keys[:-1]:
            loc = self._last_of((*loc, key))
        loc = (*loc, keys[-1])
        if not listed:
            return loc
        self.counts[loc] = self.counts.get(loc, 0) + 1
        return self._last_of(loc)

    def _last_of(self, loc: Loc) -> Loc:
        return (*loc, self.counts[loc] - 1) if loc in self.counts else loc

    def _keys(self) -> tuple[str, ...]:
        keys: list[str] = []
        while True:
            start = self._skip(_GAP)
            self._skip(_KEY)
            keys.append(_spoken(self.text[start : self.at]))
            if not self.text.startswith(".", self._skip(_GAP)):
                return tuple(keys)
            self.at += 1

    def _item(self) -> Item:
        start = self.at
        keys = self._keys()
        self.at += 1  # the sign =
        self._skip(_GAP)
        return Item(keys, start, self._value())

    def _value(self) -> Value:
        start, sign = self.at, self.text[self.at]
        if sign not in "[{":
            return Plain(start, self._skip(_PLAIN))
        self.at += 1
        parts: list[Value] = []
        items: list[Item] = []
        while self.text[self._skip(_SKIP)] not in "]}":
            if self.text[self.at] == ",":
                self.at += 1
            elif sign == "[":
                parts.append(self._value())
            else:
                items.append(self._item())
        self.at += 1
        return Listed(start, self.at, tuple(parts)) if sign == "[" else Inline(start, self.at, tuple(items))


def _spoken(key: str) -> str:
    """A key without its quotes."""
    if key[0] not in "\"'":
        return key
    return str(tomllib.loads(f"key = {key}")["key"]) if "\\" in key else key[1:-1]
