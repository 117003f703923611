"""How each sort of material moves with moisture and temperature, from the package's table."""

import tomllib
from dataclasses import replace
from functools import cache
from importlib.resources import files
from typing import Any

from stackview.description.material import MaterialKind, Movement


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads((files("stackview.description") / "tables" / "movement.toml").read_text("utf-8"))


def movement_of(
    kind: MaterialKind,
    sort: str,
    *,
    quarter: bool = False,
    radial: float | None = None,
    tangential: float | None = None,
) -> Movement:
    """Movement of one sort; wood that the table does not know moves as hardwoods do on average.

    ``quarter`` says that a board's face shows the radial cut, so that its width moves by the
    radial coefficient; ``radial`` and ``tangential`` are the maker's own, in place of the table's.

    >>> movement_of("wood", "walnut").across, movement_of("wood", "walnut", quarter=True).across
    (0.00274, 0.0019)
    """
    table = _table()
    if kind == "wood":
        known = table["wood"].get(sort)
        row = known or table["unknown_wood"]
        own = radial is not None or tangential is not None
        found = Movement(
            tangential=tangential if tangential is not None else row["tangential"],
            radial=radial if radial is not None else row["radial"],
            along=table["wood"]["along"],
            quarter=quarter,
            source="as written by the maker" if own else row["source"],
        )
        return found
    if kind in ("plywood", "board"):
        row = table[kind]
        both = row["across"]
        return Movement(tangential=both, radial=both, along=both, source=row["source"])
    row = table[kind].get(sort, {}) if kind == "metal" else table[kind]
    if not row:
        return Movement(source="not known: taken not to move")
    return replace(
        Movement(source=row["source"]),
        per_kelvin=row["per_kelvin"],
        per_humidity=row.get("per_humidity", 0.0),
    )
