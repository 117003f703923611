"""The package's table of cutting: surface speed, chip and depth of a pass by what is cut, each row with its source."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class CuttingRange:
    """How one kind of material is cut: least and most surface speed [m/min] and chip a flute, deepest pass.

    Chip and depth are shares of the cutter's diameter.
    """

    kind: str
    speed: tuple[float, float]
    chip: tuple[float, float]
    depth: float
    source: str


@cache
def cutting_ranges() -> dict[str, CuttingRange]:
    """Every kind of material that the table knows."""
    text = (files("stackview.description") / "tables" / "cutting.toml").read_text("utf-8")
    return {
        kind: CuttingRange(kind, tuple(row["speed"]), tuple(row["chip"]), row["depth"], row["source"])
        for kind, row in tomllib.loads(text).items()
    }
