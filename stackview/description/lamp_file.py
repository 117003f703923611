"""A lamp's file as a value: read once, a number changed by its path, resolved, and written back."""

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from threading import RLock
from typing import Any

from stackview.description.curve_file import Drawings
from stackview.description.field_path import Found, PathError, Paths, spelt
from stackview.description.lamp import Lamp
from stackview.description.limits_table import known_limits
from stackview.description.numbers_written import Number, numbers_in
from stackview.description.reading import MOST_LAMP_BYTES, Reading, tables_of, text_of
from stackview.description.stack_order import Copy, copies_of
from stackview.description.tables_changed import MOST_CHANGES, plain, with_changes
from stackview.description.toml_places import Loc
from stackview.description.toml_writing import rendered, same, written_back
from stackview.description.units import shown
from stackview.description.usual import usual
from stackview.description.written_lamp import WrittenLamp
from stackview.errors import Fault, LampError


@dataclass(slots=True)
class _Kept:
    """What has been worked out of a file so far; ``lock`` is held while it is."""

    lock: RLock = field(default_factory=RLock)
    text: str | None = None
    reading: Reading | None = None
    copies: tuple[Copy, ...] | None = None
    entries: dict[str, str] | None = None


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class LampFile:
    """A lamp's file as it is written, which never changes; :meth:`changed` gives a new one.

    Made by :meth:`read` or :meth:`from_text`. Everything is worked out when first asked for, once,
    and kept; threads may share one. Two are equal where their texts and their folders are.
    """

    file: str
    """What messages call it."""
    folder: Path
    """Where curve files are looked for."""
    allow_outside: bool
    """Whether curve files may lie outside that folder."""
    _drawings: Drawings
    _origin_text: str
    """The text as it was read, and its tables: what is written back is measured by these alone, so
    that a value changed there and back is written as it was."""
    _origin: dict[str, Any]
    _tables: dict[str, Any]
    """The tables with all changes; never changed in place."""
    _kept: _Kept = field(default_factory=_Kept)

    @classmethod
    def read(cls, path: str | Path, allow_outside: bool = False) -> "LampFile":
        """Read a lamp's file: UTF-8, at most 1 MB; ``allow_outside`` lets curve files lie elsewhere.

        Raises
        ------
        LampError
            it cannot be read, or is no TOML; what else is wrong in it is told by :meth:`lamp`
        """
        path = Path(path)
        return cls.from_text(text_of(path), str(path), path.parent, allow_outside=allow_outside)

    @classmethod
    def from_text(
        cls, text: str, name: str = "lamp.toml", folder: str | Path = ".", *, allow_outside: bool = False
    ) -> "LampFile":
        """A file from its text: ``name`` is what messages call it; curve files lie in ``folder``.

        Raises
        ------
        LampError
            as :meth:`read`
        """
        if len(text.encode("utf-8", "replace")) > MOST_LAMP_BYTES:
            raise LampError(name, (_too_large(),))
        tables = tables_of(text, name)
        return cls(name, Path(folder), allow_outside, Drawings(), text, tables, tables)

    # --- what it says ----------------------------------------------------------------------------

    def lamp(self) -> Lamp:
        """The lamp that it describes.

        Raises
        ------
        LampError
            it cannot be used; holds every fault found
        """
        return self._read().lamp_or_faults(self.file)

    def text(self) -> str:
        """The file's text; where nothing was changed, every character is as it was read.

        A byte order mark, line ends and a missing last one are kept: encode it as UTF-8 and write
        the bytes.
        """
        with self._kept.lock:
            if self._kept.text is None:
                self._kept.text = self._written()
            return self._kept.text

    def value(self, path: str) -> Any:
        """What is written at a path, as it is written, or the default that holds where nothing is.

        ``"5-1/2 in"`` stays a text and a bare number a number in the file's unit; a default that is
        a length says its unit, ``"3.175 mm"``. Tables and lists are copies.

        Raises
        ------
        LampError
            the path leads nowhere, or nothing is written there and no fixed default stands in for it
        """
        found = self._find(path)
        held, table = _look(self._tables, found.loc)
        if held is not None:
            return deepcopy(held)
        if len(found.loc) == 2 and found.loc[0] == "limits":
            limit = known_limits()[found.key]
            return f"{limit.value:g} mm" if limit.unit == "mm" else limit.value
        if table is None or found.table is None:
            gone = spelt(self._paths().spoken(_known_part(self._tables, found.loc)))
            raise self._fault(path, f"is not written: there is no {gone} in the file")
        default = usual(found.table, found.key, table)
        if default is None:
            fields = {info.alias or name: info for name, info in found.table.model_fields.items()}
            about = (fields[found.key].description or "").rstrip(".")
            raise self._fault(path, f"is not written, and no default is sure to hold here ({about})")
        return default

    def is_written(self, path: str) -> bool:
        """Whether something is written at a path; raises LampError for one that leads nowhere."""
        return _look(self._tables, self._find(path).loc)[0] is not None

    def entry_of(self, layer: str) -> str:
        """The path of the entry that a layer of the stack is written in: ``groups.tier.ring`` for "ring 3".

        KeyError where the stack has no layer of that name.
        """
        with self._kept.lock:
            if self._kept.entries is None:
                paths = self._paths()
                said = {copy.entry: spelt(paths.spoken(copy.entry)) for copy in self._copies()}
                self._kept.entries = {copy.name: said[copy.entry] for copy in reversed(self._copies())}
            return self._kept.entries[layer]

    def numbers(self) -> tuple[Number, ...]:
        """Every number of the file that a maker could change, in the order of its tables.

        Raises
        ------
        LampError
            the file cannot be used
        """
        lamp = self.lamp()
        written = self._read().written
        assert written is not None
        return numbers_in(written, self._tables, self._paths(), self._copies(), lamp)

    # --- what it becomes -------------------------------------------------------------------------

    def changed(self, changes: Mapping[str, object]) -> "LampFile":
        """A new file with some values changed, in one step; this one stays as it is.

        Parameters
        ----------
        changes : values by their paths, at most 1000: a number, a text, true or false, a list or a
            table, or None to take away what is written there. A key that is not written yet is added.

        Raises
        ------
        LampError
            a path leads nowhere, or the lamp with the changes would break a rule; all faults are told
        """
        if not isinstance(changes, Mapping):
            raise TypeError(
                f"changes are values by their paths, such as {{'core.height': 120}}, not a value of "
                f"{type(changes).__name__}"
            )
        if len(changes) > MOST_CHANGES:
            raise LampError(
                self.file, (Fault("", f"{len(changes)} changes at once; at most {MOST_CHANGES}: fewer"),)
            )
        made: dict[Loc, Any] = {}
        faults: list[Fault] = []
        grown = 0
        for path, value in changes.items():
            try:
                loc, each = self._change(path, value)
                _stands_alone(loc, made)
            except ValueError as wrong:
                faults.append(Fault(_quoted(path), str(wrong)))
                continue
            made[loc] = each
            grown += len(rendered(each).encode("utf-8", "replace")) + 2 * len(str(path)) + 20
        if faults:
            raise LampError(self.file, tuple(faults))
        tables = with_changes(self._tables, list(made.items()))
        tables = self._origin if same(tables, self._origin) else tables
        new = replace(self, _tables=tables, _kept=_Kept())
        if grown + len(self._origin_text.encode("utf-8", "replace")) > MOST_LAMP_BYTES // 2:
            new._is_small_enough()
        new.lamp()
        return new

    def _change(self, path: str, value: object) -> tuple[Loc, Any]:
        """Where one change is made, and what is written there.

        Raises
        ------
        ValueError
            the path leads nowhere, or the value cannot be written
        """
        loc = self._paths().find(path).loc
        if value is None:
            if _look(self._tables, loc)[0] is None:
                raise PathError("is not written, so it cannot be taken away")
            return loc, None
        return loc, plain(value)

    # --- as a value ------------------------------------------------------------------------------

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, LampFile):
            return NotImplemented
        return (self.text(), self.folder) == (other.text(), other.folder)

    def __hash__(self) -> int:
        return hash((self.text(), self.folder))

    def __repr__(self) -> str:
        name = self._tables.get("name")
        about = f" {shown(name)}" if isinstance(name, str) else ""
        return f"<LampFile{about} from {shown(self.file, 60)}{'' if self._tables is self._origin else ', changed'}>"

    def __reduce__(self) -> tuple[Any, ...]:
        return partial(LampFile.from_text, allow_outside=self.allow_outside), (
            self.text(),
            self.file,
            self.folder,
        )

    # --- worked out once -------------------------------------------------------------------------

    def _read(self) -> Reading:
        with self._kept.lock:
            if self._kept.reading is None:
                self._kept.reading = Reading(
                    self._tables, self.folder, allow_outside=self.allow_outside, drawings=self._drawings
                )
            return self._kept.reading

    def _copies(self) -> tuple[Copy, ...]:
        with self._kept.lock:
            if self._kept.copies is None:
                written = self._read().written
                self._kept.copies = copies_of(written) if written is not None else ()
            return self._kept.copies

    def _paths(self) -> Paths:
        return Paths(self._tables, self._copies)

    def _find(self, path: str) -> Found:
        try:
            return self._paths().find(path)
        except PathError as wrong:
            raise self._fault(path, str(wrong)) from None

    def _fault(self, path: object, what: str) -> LampError:
        return LampError(self.file, (Fault(_quoted(path), what),))

    def _written(self) -> str:
        if self._tables is self._origin:
            return self._origin_text
        order = tuple(WrittenLamp.model_fields)
        text = written_back(self._origin_text, self._origin, self._tables, order)
        if not same(tables_of(text, self.file), self._tables):
            raise LampError(
                self.file, (Fault("", "cannot be written back so that it reads the same: change it by hand"),)
            )
        return text

    def _is_small_enough(self) -> None:
        if len(self.text().encode("utf-8", "replace")) > MOST_LAMP_BYTES:
            raise LampError(self.file, (_too_large(),))


def _quoted(path: object) -> str:
    """A path as it was given, fit for a message."""
    return shown(str(path), 80)[1:-1]


def _too_large() -> Fault:
    return Fault("", f"is larger than {MOST_LAMP_BYTES // 1_000_000} MB, the most a lamp's file may be")


def _stands_alone(loc: Loc, others: Mapping[Loc, Any]) -> None:
    """Refuse a place that another change of the same step already holds, or holds a part of."""
    for other in others:
        short = min(len(loc), len(other))
        if loc[:short] == other[:short]:
            raise PathError(f"is changed twice in one step, here and as {spelt(other)}: keep one of the two")


def _look(tables: Mapping[str, Any], loc: Loc) -> tuple[Any, Mapping[str, Any] | None]:
    """What is written at a place, or None; and the table that it would stand in, where there is one."""
    node: Any = tables
    for step in loc[:-1]:
        node = _down(node, step)
    return _down(node, loc[-1]), node if isinstance(node, dict) else None


def _down(node: Any, step: str | int) -> Any:
    if isinstance(node, dict):
        return node.get(step)
    return node[step] if isinstance(node, list) and isinstance(step, int) and step < len(node) else None


def _known_part(tables: Mapping[str, Any], loc: Loc) -> Loc:
    """The place down to the first step that is not written."""
    node: Any = tables
    for depth, step in enumerate(loc):
        node = _down(node, step)
        if node is None:
            return loc[: depth + 1]
    return loc
