"""The package's table of sheets as they are sold: thicknesses and the largest sheet, each with its source."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from stackview.description.material import Material

_INCH = 25.4
_NEAR = 0.05
"""Thicknesses this near are the same [mm]."""


@dataclass(frozen=True, slots=True)
class SoldSheet:
    """One kind of sheet: thicknesses and largest sheet [mm], and whose word that is."""

    name: str
    thicknesses: tuple[float, ...]
    sheet: tuple[float, float]
    source: str

    def sells(self, thickness: float) -> bool:
        """Whether it is commonly sold that thick [mm]."""
        return any(abs(one - thickness) <= _NEAR for one in self.thicknesses)

    def beside(self, thickness: float) -> tuple[float, ...]:
        """The next thinner and the next thicker that are sold [mm]."""
        thinner = [one for one in self.thicknesses if one < thickness]
        thicker = [one for one in self.thicknesses if one > thickness]
        return (*thinner[-1:], *thicker[:1])


@cache
def sold_sheets() -> dict[str, SoldSheet]:
    """Every kind of sheet that the table knows, by name."""
    text = (files("stackview.description") / "tables" / "sheets.toml").read_text("utf-8")
    return {
        name: SoldSheet(
            name,
            tuple(sorted({*row["thicknesses"], *(inch * _INCH for inch in row["inches"])})),
            (row["sheet"][0], row["sheet"][1]),
            row["source"],
        )
        for name, row in tomllib.loads(text).items()
    }


def sheet_of(material: Material) -> SoldSheet | None:
    """The kind of sheet that a material is cut from; None for wood, metal and plastic."""
    name = material.kind
    if material.is_acrylic:
        return sold_sheets()["extruded acrylic" if material.extruded else "cast acrylic"]
    return sold_sheets().get(name)
