"""Reads a lamp's file: text → the lamp, or one error with every fault in it."""

import os
import re
import time
import tomllib
from pathlib import Path
from typing import Any

from stackview.description.curve_file import Drawings
from stackview.description.faults import Faults
from stackview.description.lamp import Lamp
from stackview.description.limits_tried import offers_tried
from stackview.description.resolve import resolve
from stackview.description.toml_depth import DEEPEST, is_nested_deep
from stackview.description.units import MM_PER_UNIT
from stackview.description.wording import check_shape
from stackview.description.written_lamp import WrittenLamp
from stackview.errors import Fault, LampError

MOST_LAMP_BYTES = 1_000_000
"""Greatest size of a lamp's file."""
_TRIES, _MOMENT, _JUST_NOW = 10, 0.05, 1.0
"""How often a file that is being saved is read again, how long after [s], and how new an empty one is [s]."""

_TOO_FAR = "holds a number or a nesting far too long to be meant: mend it"
_PLACE = re.compile(r" \(at (line \d+), (column \d+)\)$")
_TOML_ADVICE = {
    "Cannot overwrite a value": "a key is written twice in one table: keep one of the two",
    "Cannot declare": "a table is written twice: use [[…]] for the entries of a list, or join the two",
    "Invalid value": "put texts in quotes; write a figure before a point (0.5)",
    "Expected '=' after a key": "write key = value",
    "Unterminated string": "a quote is missing at the end of a text",
    "Illegal character": "a quote is missing at the end of a text, or a sign that cannot be read stands here",
    "Unclosed": "a closing bracket is missing",
    "Expected newline or end of document": "something follows the value: write one key = value on a line",
    "Expected ']'": "a closing bracket is missing",
}


def read_lamp(path: str | Path, *, allow_outside: bool = False) -> Lamp:
    """Read a lamp from its file.

    Parameters
    ----------
    path : the lamp's TOML file, UTF-8, at most 1 MB
    allow_outside : let curve files lie outside the lamp's folder

    Raises
    ------
    LampError
        the file cannot be read or used; holds every fault found, not just the first
    """
    path = Path(path)
    return read_text(text_of(path), str(path), path.parent, allow_outside=allow_outside)


def text_of(path: Path) -> str:
    """The text of a lamp's file, every character of it: line ends and a byte order mark too.

    Raises
    ------
    LampError
        there is no such file, or it is not UTF-8 text of at most :data:`MOST_LAMP_BYTES`
    """

    def refuse(what: str) -> LampError:
        return LampError(str(path), (Fault("", what),))

    try:
        if path.is_dir():
            raise refuse("is a folder: name the lamp's file in it")
        if path.exists() and not path.is_file():
            raise refuse("is not an ordinary file: name a lamp's TOML file")
        data = _whole(path)
    except FileNotFoundError:
        raise refuse("there is no such file: check the name, or begin one with the starter") from None
    except (OSError, ValueError) as wrong:
        reason = getattr(wrong, "strerror", None) or "its name cannot be used"
        raise refuse(f"cannot be read ({reason})") from None
    if data is None:
        raise refuse("is being written while it is read: wait until it is saved, and run it again")
    if len(data) > MOST_LAMP_BYTES:
        raise refuse(f"is larger than {MOST_LAMP_BYTES // 1_000_000} MB, the most a lamp's file may be")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as wrong:
        line = data[: wrong.start].count(b"\n") + 1
        raise LampError(
            str(path), (Fault(f"line {line}", "is not UTF-8 text: save the file as plain text in UTF-8"),)
        ) from None
    if "\0" in text:
        line = text[: text.index("\0")].count("\n") + 1
        raise LampError(str(path), (Fault(f"line {line}", "is binary, not text: name a lamp's TOML file"),))
    return text


def _whole(path: Path) -> bytes | None:
    """A file's bytes, at most one more than it may have; None where it does not stop changing while it is read.

    Beginning and end of a file that is just being saved may belong to two states of it. One that is
    empty may be about to be written: it is given a moment.
    """
    for _ in range(_TRIES):
        with path.open("rb") as file:
            before = os.fstat(file.fileno())
            data = file.read(MOST_LAMP_BYTES + 1)
            after = os.fstat(file.fileno())
        quiet = (before.st_size, before.st_mtime_ns) == (after.st_size, after.st_mtime_ns)
        if quiet and (data or abs(time.time() - after.st_mtime) > _JUST_NOW):
            return data
        time.sleep(_MOMENT)
    return data if quiet else None


def read_text(text: str, file: str, folder: str | Path, *, allow_outside: bool = False) -> Lamp:
    """Read a lamp from the text of its file.

    ``file`` is what messages call it; curve files are looked for in ``folder``.

    Raises
    ------
    LampError
        as :func:`read_lamp`
    """
    reading = Reading(tables_of(text, file), Path(folder), allow_outside=allow_outside)
    return reading.lamp_or_faults(file)


class Reading:
    """A lamp's tables, held against the rules and resolved: what is written, the lamp, the faults.

    ``lamp`` is None where there are faults; ``written`` then is of a mended copy, or None.
    """

    def __init__(
        self,
        tables: dict[str, Any],
        folder: Path,
        *,
        allow_outside: bool = False,
        drawings: Drawings | None = None,
    ) -> None:
        def read(written: dict[str, Any], faults: Faults) -> tuple[WrittenLamp | None, Lamp | None]:
            unit = written.get("unit", "mm")
            unit = unit if isinstance(unit, str) and unit in MM_PER_UNIT else "mm"
            shape = check_shape(written, unit, faults)
            if shape is None:
                return None, None
            return shape, resolve(shape, folder, faults, allow_outside=allow_outside, drawings=drawings)

        def faults_of(written: dict[str, Any]) -> Faults:
            faults = Faults()
            read(written, faults)
            return faults

        faults = Faults()
        self.written, self.lamp = read(tables, faults)
        self.faults = offers_tried(faults, faults_of)

    def lamp_or_faults(self, file: str) -> Lamp:
        """The lamp; raises LampError of a file called ``file`` with all faults."""
        if self.lamp is None or self.faults:
            raise LampError(file, self.faults)
        return self.lamp


def tables_of(text: str, file: str) -> dict[str, Any]:
    """The tables of a file's text, as TOML has them; ``file`` is what messages call it.

    Raises
    ------
    LampError
        it is no TOML, with the place and what to do about it
    """
    text = text.removeprefix("\ufeff")
    if is_nested_deep(text):
        raise LampError(file, (Fault("", _TOO_FAR),))
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        message = str(wrong)
        found = _PLACE.search(message)
        where = f"{found[1]}, {found[2]}" if found else "end of the file"
        plain = _PLACE.sub("", message).removesuffix(" (at end of document)")
        advice = next((advice for start, advice in _TOML_ADVICE.items() if start in plain), "")
        raise LampError(file, (Fault(where, plain + (f": {advice}" if advice else "")),)) from None
    except (ValueError, RecursionError):
        # a number of thousands of figures, or brackets within brackets without end
        raw = None
    if raw is None or _too_deep(raw):
        raise LampError(file, (Fault("", _TOO_FAR),))
    return raw


def _too_deep(raw: dict[str, Any]) -> bool:
    """Whether tables and lists stand within one another deeper than any lamp's file needs."""
    row: list[Any] = [raw]
    for _ in range(DEEPEST):
        inner = [item.values() if isinstance(item, dict) else item for item in row]
        row = [item for items in inner for item in items if isinstance(item, dict | list)]
    return bool(row)
