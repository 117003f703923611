"""What a drawing file of a whole sheet has besides the cuts of its parts: drawn to read by, never cut."""

from collections.abc import Mapping
from dataclasses import dataclass

from stackview.arrays import Floats
from stackview.curves.arcs import Path

SHEET_LAYER, MARGIN_LAYER, ZONE_LAYER, GRAIN_LAYER, NAMES_LAYER = "SHEET", "MARGIN", "ZONE", "GRAIN", "NAMES"
"""Layers of a DXF, groups of an SVG."""


@dataclass(frozen=True, slots=True, eq=False)
class SheetLines:
    """Curves by layer: the sheet's edge, the margin, the zones; lines (2, 2) that show the grain [mm].

    ``names`` are words, the place of their middle, and the height of their capitals [mm].
    """

    curves: Mapping[str, tuple[Path, ...]]
    grain: tuple[Floats, ...]
    names: tuple[tuple[str, tuple[float, float], float], ...]
