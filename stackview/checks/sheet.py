"""How much a sheet's true thickness can differ from the number that the lamp is built with."""

from dataclasses import dataclass
from math import sqrt

from stackview.checks.limits import Limits
from stackview.description.lamp import Layer

_BIRCH = (
    (3.8, 3.5, 4.1),
    (6.4, 6.1, 6.9),
    (9.2, 8.8, 9.5),
    (12.0, 11.5, 12.5),
    (14.8, 14.3, 15.3),
    (17.7, 17.1, 18.1),
    (20.4, 20.0, 20.9),
    (23.3, 22.9, 23.7),
)
"""Birch plywood: nominal thickness, least, greatest [mm]; a trade data sheet, but 4, 15, 21 and 24 mm from memory."""


@dataclass(frozen=True, slots=True)
class Spread:
    """By how much a thickness may be out, one way [mm], and whose word that is."""

    by: float
    source: str


def cast_acrylic(thickness: float) -> float:
    """Tolerance of cast acrylic sheet, ±(0.4 + 0.1 h) [mm]: ISO 7823-1.

    >>> [round(cast_acrylic(h), 9) for h in (3.0, 5.0, 10.0)]
    [0.7, 0.9, 1.4]
    """
    return 0.4 + 0.1 * thickness


def extruded_acrylic(thickness: float) -> float:
    """Tolerance of extruded acrylic sheet, ±10 % under 3 mm, ±5 % from 3 mm [mm]: ISO 7823-2.

    >>> round(extruded_acrylic(2.0), 9), round(extruded_acrylic(3.0), 9)
    (0.2, 0.15)
    """
    return (0.1 if thickness < 3.0 else 0.05) * thickness


def birch_plywood(thickness: float) -> float:
    """Tolerance of birch plywood [mm]: the wider side of the data sheet's row nearest in thickness.

    >>> round(birch_plywood(18.0), 9), round(birch_plywood(6.5), 9)
    (0.6, 0.5)
    """
    nominal, least, greatest = min(_BIRCH, key=lambda row: abs(row[0] - thickness))
    return max(nominal - least, greatest - nominal)


def spread_of(layer: Layer, limits: Limits) -> Spread:
    """How much one layer's thickness may be out: by the caliper where it was measured, else by its sheet.

    Acrylic counts as cast where the lamp's file does not say, for that has the wider tolerance.
    """
    material = layer.material
    if material.measured is not None and abs(material.measured.mm - layer.thickness) < 1e-9:
        return Spread(limits.value("caliper"), "caliper reading")
    if material.is_acrylic and material.extruded:
        return Spread(extruded_acrylic(layer.thickness), "ISO 7823-2, extruded sheet")
    if material.is_acrylic:
        return Spread(cast_acrylic(layer.thickness), "ISO 7823-1, cast sheet")
    if material.is_plywood:
        return Spread(birch_plywood(layer.thickness), "birch plywood, trade data sheet")
    if material.is_wooden:
        return Spread(limits.value("planed"), "planed by hand or machine, common practice")
    return Spread(limits.value("caliper"), "cut to length by caliper")


def worst_and_rss(parts: list[float]) -> tuple[float, float]:
    """Worst case Σ|Δ| and root sum of squares √ΣΔ² of deviations [mm].

    >>> worst, rss = worst_and_rss([0.10, 0.05, 0.03, 0.05])
    >>> round(worst, 9), round(rss, 6)
    (0.23, 0.126095)
    """
    return sum(abs(part) for part in parts), sqrt(sum(part * part for part in parts))
