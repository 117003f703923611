"""The limits of one study: the package's defaults, the maker's own file over them, the lamp's over both."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from stackview.description.lamp import Lamp
from stackview.description.limits_table import Limit, known_limits, own_limit
from stackview.description.toml_depth import is_nested_deep
from stackview.description.units import Units
from stackview.errors import Fault, LampError
from stackview.one_line import one_line

_MOST_BYTES = 100_000


@dataclass(frozen=True, slots=True)
class Limits:
    """Every limit by name; ``limits["wall_wood"].value``, ``.unit``, ``.source``."""

    all: Mapping[str, Limit]

    __repr__ = one_line

    def __getitem__(self, name: str) -> Limit:
        """The limit of that name; KeyError where the table has none."""
        return self.all[name]

    def value(self, name: str) -> float:
        """The limit's number, in its own unit."""
        return self.all[name].value


def limits_for(lamp: Lamp, own: Mapping[str, Limit] | None = None) -> Limits:
    """Defaults, then the maker's ``own`` file, then what the lamp's file says under ``[limits]``."""
    return Limits({**known_limits(), **(own or {}), **{limit.name: limit for limit in lamp.limits}})


def read_limits(file: Path) -> Mapping[str, Limit]:
    """The maker's own limits from a TOML file of ``name = value``; lengths in mm where no unit is written.

    The names may also stand under a ``[limits]`` table.

    Raises
    ------
    LampError
        the file cannot be read, or holds a name or a value that cannot be meant; all of them
    """
    written = _read(file)
    found: dict[str, Limit] = {}
    faults: list[Fault] = []
    for name, value in written.items():
        try:
            found[name] = own_limit(name, value, Units("mm"), f"your own limit, {file.name}")
        except ValueError as wrong:
            faults.append(Fault(f"limits · {name}", str(wrong)))
    if faults:
        raise LampError(str(file), tuple(faults))
    return found


def _read(file: Path) -> Mapping[str, object]:
    def refuse(what: str) -> LampError:
        return LampError(str(file), (Fault("", what),))

    if file.exists() and not file.is_file():
        raise refuse("is not an ordinary file: name a TOML file of limits")
    try:
        with file.open("rb") as source:
            data = source.read(_MOST_BYTES + 1)
    except FileNotFoundError:
        raise refuse("there is no such file: check the name") from None
    except (OSError, ValueError) as wrong:
        raise refuse(f"cannot be read ({getattr(wrong, 'strerror', None) or 'its name'})") from None
    if len(data) > _MOST_BYTES:
        raise refuse("is larger than 100 kB: it should hold a few lines of limits")
    try:
        text = data.decode("utf-8-sig")
        if is_nested_deep(text):
            raise refuse("nests far too deep to be meant: write one limit on a line, name = value")
        written = tomllib.loads(text)
    except UnicodeDecodeError:
        raise refuse("is not UTF-8 text: save the file as plain text in UTF-8") from None
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as wrong:
        raise refuse(f"{wrong}: write one limit on a line, name = value") from None
    inner = written.get("limits")
    return inner if isinstance(inner, dict) and len(written) == 1 else written
