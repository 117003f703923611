"""Writes changed tables back into the text they were read from; what is not changed keeps every character.

tomlkit would be the library for this, but it moves the entries of a list of tables together where
other tables stand between them, so the text is spliced here at the places of :mod:`toml_places`.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, time
from typing import Any

from stackview.description.toml_places import Inline, Item, Listed, Loc, Section, Value, sections_of

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\r": "\\r", "\t": "\\t", "\b": "\\b", "\f": "\\f"}
_ABSENT = object()


def rendered(value: object) -> str:
    """A value as TOML writes it, tables in braces.

    >>> rendered({"depth": 1.5, "face": "top", "at": [0, 20]})
    '{ depth = 1.5, face = "top", at = [0, 20] }'
    >>> rendered({"cut": date(2026, 3, 1)})
    '{ cut = 2026-03-01 }'
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return '"' + "".join(_escaped(sign) for sign in value) + '"'
    if isinstance(value, list):
        return f"[{', '.join(map(rendered, value))}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(_line(key, each) for key, each in value.items())} }}" if value else "{}"
    if isinstance(value, date | time):
        # As RFC 3339 has them, which TOML takes over; a moment is a date too.
        return value.isoformat()
    return repr(value)


def _escaped(sign: str) -> str:
    return _ESCAPES.get(sign) or (f"\\u{ord(sign):04x}" if ord(sign) < 32 or ord(sign) == 127 else sign)


def rendered_key(*steps: str) -> str:
    """A key, dotted where it has several steps; quoted only where it has to be."""
    return ".".join(step if _BARE.fullmatch(step) else rendered(step) for step in steps)


def _line(key: str, value: object) -> str:
    return f"{rendered_key(key)} = {rendered(value)}"


def same(one: Any, other: Any) -> bool:
    """Whether two tables or values are alike, 1 and 1.0 and true being three things."""
    if one is other:
        return True
    if type(one) is not type(other):
        return False
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(same(value, other[key]) for key, value in one.items())
    if isinstance(one, list):
        return len(one) == len(other) and all(map(same, one, other))
    return bool(one == other)


def written_back(text: str, old: dict[str, Any], new: dict[str, Any], order: Sequence[str]) -> str:
    """The text with its tables changed from ``old``, which it holds, to ``new``.

    A changed value takes the place of the old one; a new key follows the last of its table; what is
    gone takes its line with it. New tables follow the last one of a key that is not behind theirs
    in ``order``.
    """
    return _Writing(text, old, new, order).done()


class _Writing:
    """One text on its way from the old tables to the new; holds the edits found so far."""

    def __init__(self, text: str, old: dict[str, Any], new: dict[str, Any], order: Sequence[str]) -> None:
        self.text, self.old, self.new, self.order = text, old, new, order
        self.begin = 1 if text.startswith("\ufeff") else 0
        self.line_end = "\r\n" if "\r\n" in text[: text.find("\n") + 1] else "\n"
        self.edits: list[tuple[int, int, bool, str]] = []
        """Where each begins and ends, whether it begins with a header, and its text."""
        self.heads: dict[Loc, Section] = {}
        """Headers that stay, by the new place of their table."""
        self.items: dict[Loc, tuple[Section, Item]] = {}
        self.inside: set[Loc] = set()
        """Places on the way to a header or a key that stays."""
        self.bare: dict[Loc, dict[str, Any]] = {}
        """New keys of tables that have no header of their own yet."""
        self.sections = sections_of(text)

    def done(self) -> str:
        for section in self.sections:
            self._keep(section)
        for loc in [*self.heads, *self.items]:
            self.inside.update(loc[:length] for length in range(len(loc)))
        self._add_to(self.new, ())
        for loc, table in self.bare.items():
            self._add_after(self._last(loc), ["", *self._section_lines(loc, table, False)])
        pieces, at = [], 0
        # where keys and headers are added at one place, the keys belong to what stands before them
        for start, end, _, fresh in sorted(self.edits, key=lambda edit: edit[:3]):
            pieces += [self.text[at:start], fresh]
            at = end
        return "".join([*pieces, self.text[at:]])

    # --- what stays ------------------------------------------------------------------------------

    def _keep(self, section: Section) -> None:
        to = self._place(section.loc)
        if to is None or not isinstance(_at(self.new, to), dict):
            self._take_section(section)
            return
        self.heads[to] = section
        for item in section.items:
            there = self._place((*section.loc, *item.key))
            if there is None:
                self._take_lines(item.start, item.end)
                continue
            self.items[there] = (section, item)
            before = _at(self.old, (*section.loc, *item.key))
            after = _at(self.new, there)
            if not same(before, after):
                value = item.value
                self.edits.append((value.start, value.end, False, _respelt(self.text, value, before, after)))

    def _place(self, loc: Loc) -> Loc | None:
        """Where in the new tables stands what stood at ``loc`` in the old ones."""
        before: Any = self.old
        after: Any = self.new
        found: list[str | int] = []
        for step in loc:
            to: str | int | None = step
            if isinstance(step, int):
                to = paired(before, after)[step] if _are_tables(after) else None
            elif not isinstance(after, dict) or step not in after:
                to = None
            if to is None:
                return None
            before, after = before[step], after[to]
            found.append(to)
        return tuple(found)

    def _line_of(self, at: int) -> int:
        return max(self.text.rfind("\n", 0, at) + 1, self.begin)

    def _next_line(self, at: int) -> int:
        return self.text.find("\n", at) + 1 or len(self.text)

    def _take_lines(self, start: int, end: int) -> None:
        self.edits.append((self._line_of(start), self._next_line(end), False, ""))

    def _take_section(self, section: Section) -> None:
        """Its header and its lines, with one empty line before it."""
        start = self._line_of(section.start)
        above = self._line_of(start - 1)
        empty = start > self.begin and not self.text[above:start].strip()
        self._take_lines(above if empty else start, section.end)

    # --- what is new -----------------------------------------------------------------------------

    def _add_to(self, table: Mapping[str, Any], loc: Loc) -> None:
        # at the top, keys come before all headers
        for key, value in (
            table.items() if loc else sorted(table.items(), key=lambda each: _as_sections(each[1]))
        ):
            at = (*loc, key)
            if at in self.items:
                continue
            if at not in self.heads and at not in self.inside:
                self._put(loc, key, value)
            elif isinstance(value, dict):
                self._add_to(value, at)
            else:
                self._add_entries(value, at)

    def _add_entries(self, entries: list[Any], at: Loc) -> None:
        first = next(i for i in range(len(entries)) if (*at, i) in self.heads)
        for index, entry in enumerate(entries):
            if (*at, index) in self.heads:
                self._add_to(entry, (*at, index))
            elif index < first:
                before = self._line_of(self.heads[(*at, first)].start)
                lines = [*self._section_lines(at, entry, True), ""]
                self.edits.append((before, before, True, "".join(line + self.line_end for line in lines)))
            else:
                last = next(i for i in range(index, -1, -1) if (*at, i) in self.heads)
                self._add_after(self._last((*at, last)), ["", *self._section_lines(at, entry, True)])

    def _last(self, under: Loc) -> Section:
        """The last section in the text that stands at or under a place."""
        return max(
            (section for loc, section in self.heads.items() if loc[: len(under)] == under),
            key=lambda section: section.start,
        )

    def _put(self, loc: Loc, key: str, value: Any) -> None:
        homes = {id(section): len(at) for at, section in self.heads.items()}
        dotted = [
            (section, item)
            for at, (section, item) in self.items.items()
            if at[: len(loc)] == loc and homes[id(section)] < len(loc)
        ]
        if loc in self.heads and (loc or not _as_sections(value)):
            self._add_item(self.heads[loc], None, (key,), value)
        elif dotted:
            section, item = dotted[-1]
            steps = (*loc, key)[homes[id(section)] :]
            self._add_item(section, item, tuple(map(str, steps)), value)
        else:
            anchor = self._last(loc) if loc else self._before(key)
            if not _as_sections(value):
                self.bare.setdefault(loc, {})[key] = value
                return
            for lines in self._new_sections((*loc, key), value):
                self._add_after(anchor, ["", *lines])

    def _new_sections(self, loc: Loc, value: Any) -> list[list[str]]:
        """A new table or list of tables as sections; one of named tables alone needs no header of its own."""
        if isinstance(value, list):
            return [self._section_lines(loc, each, True) for each in value]
        if len(loc) == 1 and value and all(map(_as_sections, value.values())):
            return [lines for key, each in value.items() for lines in self._new_sections((*loc, key), each)]
        return [self._section_lines(loc, value, False)]

    def _before(self, key: str) -> Section:
        """The last section of a key that is not behind ``key`` in the order; else the first of all."""
        rank = self.order.index(key) if key in self.order else len(self.order)
        ahead = set(self.order[: rank + 1])
        return max(
            (section for loc, section in self.heads.items() if not loc or loc[0] in ahead),
            key=lambda section: section.start,
        )

    def _section_lines(self, loc: Loc, table: Mapping[str, Any], listed: bool) -> list[str]:
        name = rendered_key(*(step for step in loc if isinstance(step, str)))
        return [f"[[{name}]]" if listed else f"[{name}]", *(_line(key, table[key]) for key in table)]

    def _add_item(self, section: Section, after: Item | None, key: tuple[str, ...], value: Any) -> None:
        after = after or (section.items[-1] if section.items else None)
        start = after.start if after else section.start
        indent = self.text[self._line_of(start) : start]
        line = f"{indent if not indent.strip() else ''}{rendered_key(*key)} = {rendered(value)}"
        self._add_after(section, [line], after)

    def _add_after(self, section: Section, lines: list[str], item: Item | None = None) -> None:
        """New lines below an item, or below a section; a text without a last line end gets none."""
        if not section.loc and not section.items:
            at, ended = section.start, True
        else:
            at = self._next_line(item.end if item else section.end)
            ended = self.text[at - 1 : at] == "\n"
        fresh = "".join(line + self.line_end if ended else self.line_end + line for line in lines)
        self.edits.append((at, at, not lines[0], fresh))


def _as_sections(value: object) -> bool:
    """Whether a new value is written below a header of its own."""
    return isinstance(value, dict) or _are_tables(value)


def _are_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(each, dict) for each in value)


def _at(node: Any, loc: Loc) -> Any:
    for step in loc:
        node = node[step]
    return node


def paired(old: list[Any], new: list[Any]) -> list[int | None]:
    """For each old entry the number of the new one that it became; None where it is gone.

    Entries alike at the beginning and at the end stay what they are; those between go by their order.
    """
    short = min(len(old), len(new))
    ahead = next((i for i in range(short) if not same(old[i], new[i])), short)
    behind = next((i for i in range(short - ahead) if not same(old[-1 - i], new[-1 - i])), short - ahead)
    between = range(ahead, len(new) - behind)
    middle = [i if i in between else None for i in range(ahead, len(old) - behind)]
    return [*range(ahead), *middle, *range(len(new) - behind, len(new))]


def _respelt(text: str, value: Value, old: Any, new: Any) -> str:
    """The text of one value, changed only where the new one differs from the old."""
    if same(old, new):
        return text[value.start : value.end]
    if isinstance(value, Inline) and isinstance(new, dict):
        return _respelt_table(text, value, old, new)
    if isinstance(value, Listed) and isinstance(new, list):
        return _respelt_list(text, value, old, new)
    return rendered(new)


def _respelt_table(text: str, value: Inline, old: dict[str, Any], new: dict[str, Any]) -> str:
    kept: list[tuple[str, str]] = []
    paths: list[tuple[str, ...]] = []
    end = value.start + 1
    for item in value.items:
        gap, end = text[end : item.start], item.end
        after = _lookup(new, item.key)
        if after is _ABSENT:
            continue
        key = text[item.start : item.value.start]
        kept.append((gap, key + _respelt(text, item.value, _at(old, item.key), after)))
        paths.append(item.key)
    added = [f"{rendered_key(*path)} = {rendered(each)}" for path, each in _uncovered(new, paths, ())]
    if not kept:
        return f"{{ {', '.join(added)} }}" if added else "{}"
    lead = text[value.start + 1 : value.items[0].start]
    return _joined(text[value.start] + lead, kept, added, text[value.items[-1].end : value.end])


def _respelt_list(text: str, value: Listed, old: list[Any], new: list[Any]) -> str:
    came = {to: index for index, to in enumerate(paired(old, new)) if to is not None}
    gaps = [
        text[before.end : after.start] for before, after in zip(value.parts, value.parts[1:], strict=False)
    ]
    pieces = []
    for index, each in enumerate(new):
        source = came.get(index)
        if source is None:
            pieces.append((", ", rendered(each)))
        else:
            gap = gaps[source - 1] if source else ", "
            pieces.append((gap, _respelt(text, value.parts[source], old[source], each)))
    if not pieces or not value.parts:
        return rendered(new)
    lead = text[value.start : value.parts[0].start]
    return _joined(lead, pieces, [], text[value.parts[-1].end : value.end])


def _joined(lead: str, kept: list[tuple[str, str]], added: list[str], tail: str) -> str:
    inner = kept[0][1] + "".join(gap + piece for gap, piece in kept[1:])
    return lead + ", ".join([inner, *added]) + tail


def _lookup(table: Any, path: tuple[str, ...]) -> Any:
    for step in path:
        if not isinstance(table, dict) or step not in table:
            return _ABSENT
        table = table[step]
    return table


def _uncovered(
    table: dict[str, Any], paths: list[tuple[str, ...]], at: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Keys of a table, with their values, that none of the dotted ``paths`` has written."""
    for key, value in table.items():
        here = (*at, key)
        below = [path for path in paths if path[: len(here)] == here]
        if not below:
            yield here, value
        elif here not in below and isinstance(value, dict):
            yield from _uncovered(value, paths, here)
