"""The package's tables of glues, climates and wires, each row with its source."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from stackview.description.service import Climate, Film, Glue, Gluing, Rooms

USUAL_GLUES = {"wood": "wood glue", "acrylic": "neutral silicone", "other": "epoxy"}
"""Glue by what is joined, where the lamp's file names none; common practice."""
USUAL_ROOMS = ("dry winter room", "humid summer room")
WORKSHOP = "workshop"


@cache
def _table(name: str) -> dict[str, Any]:
    return tomllib.loads((files("stackview.description") / "tables" / name).read_text("utf-8"))


def glues() -> dict[str, Glue]:
    """Glues that the table knows, by name."""
    return {
        name: Glue(
            name,
            row["full"],
            row["film"],
            row["stretch"],
            tuple(row["grips"]),
            row["on_acrylic"],
            row["source"],
            Film(row["index"], row.get("clear", True)),
            row["hottest"],
            open_minutes=row["open_minutes"],
            clamp_minutes=row["clamp_minutes"],
            cure_hours=row["cure_hours"],
        )
        for name, row in _table("glues.toml").items()
    }


def climates() -> dict[str, Climate]:
    """Climates that the table knows, by name."""
    return {
        name: Climate(name, row["temperature"], row["humidity"] / 100.0, row["source"])
        for name, row in _table("climates.toml").items()
    }


def usual_gluing() -> Gluing:
    """The glues that are taken where the lamp's file says nothing."""
    known = glues()
    wood, acrylic, other = (known[name] for name in USUAL_GLUES.values())
    return Gluing(wood, acrylic, other)


def usual_rooms() -> Rooms:
    """The climates that are taken where the lamp's file says nothing."""
    known = climates()
    return Rooms(known[WORKSHOP], tuple(known[name] for name in USUAL_ROOMS))


def copper() -> tuple[float, str]:
    """Resistivity of copper at 20 °C [Ω·mm²/m], and its source."""
    table = _table("wires.toml")
    return table["copper"], table["copper_source"]


def carries(mm2: float) -> tuple[float, str]:
    """Current [A] that a flexible cord of copper cross-section ``mm2`` may carry, and its source.

    Between two rows of the table it is taken in proportion; below the first, in proportion to it.

    >>> carries(0.5)[0], carries(0.75)[0]
    (3.0, 6.0)
    """
    row = _table("wires.toml")["carries"]
    before = (0.0, 0.0)
    for area, amps in row["values"]:
        if mm2 <= area:
            share = (mm2 - before[0]) / (area - before[0])
            return before[1] + share * (amps - before[1]), row["source"]
        before = (area, amps)
    return before[1], row["source"]
