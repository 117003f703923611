"""The package's tables of materials and of ports, each row with its source."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

_MOISTURE = 12.0
"""Moisture content that the wood table holds for [%]."""


@dataclass(frozen=True, slots=True)
class Row:
    """One material of the table; ``colour`` is linear sRGB, 0 to 1."""

    kind: str
    sort: str
    full: str
    density: float
    colour: tuple[float, float, float]
    source: str


@dataclass(frozen=True, slots=True)
class Port:
    """One port of the table: nominal voltage [V] and the current that it gives [A]."""

    name: str
    volts: float
    amps: float
    source: str


@cache
def _table(name: str) -> dict[str, Any]:
    return tomllib.loads((files("stackview.description") / "tables" / name).read_text("utf-8"))


def wood_density(gravity: float, moisture: float = _MOISTURE) -> float:
    """Density of wood [kg/m³] from its specific gravity at ``moisture`` [%].

    Wood Handbook (FPL-GTR-190), ch. 4: ρ = 1000 · G · (1 + x/100).

    >>> round(wood_density(0.4), 9), round(wood_density(0.63), 9)
    (448.0, 705.6)
    """
    return 1000.0 * gravity * (1.0 + moisture / 100.0)


def linear_colour(written: str) -> tuple[float, float, float]:
    """``#rrggbb`` in sRGB as linear sRGB (IEC 61966-2-1).

    >>> linear_colour("#ff0000")
    (1.0, 0.0, 0.0)
    """
    red, green, blue = (_linear(int(written[i : i + 2], 16) / 255.0) for i in (1, 3, 5))
    return red, green, blue


def _linear(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)


def sorts(kind: str) -> tuple[str, ...]:
    """Sorts of one kind that the table knows, e.g. ``("clear", "opal")`` for acrylic."""
    return tuple(_table("materials.toml").get(kind, {}))


def row(kind: str, sort: str, sold_mm: float | None = None) -> Row:
    """The table's row of one sort; plywood's density goes by the thickness it is sold as [mm].

    Raises
    ------
    KeyError
        the table does not know this kind and sort
    """
    found = _table("materials.toml")[kind][sort]
    if "gravity" in found:
        density = wood_density(found["gravity"])
    elif "densities" in found:
        by_thickness = found["densities"]
        wanted = sold_mm if sold_mm is not None else by_thickness[-1][0]
        density = min(by_thickness, key=lambda pair: abs(pair[0] - wanted))[1]
    else:
        density = found["density"]
    return Row(kind, sort, found["full"], density, linear_colour(found["colour"]), found["source"])


def ports() -> dict[str, Port]:
    """Ports that the table knows, by name."""
    return {name: Port(name, p["volts"], p["amps"], p["source"]) for name, p in _table("ports.toml").items()}
