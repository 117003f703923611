"""What is said of a part beside a drawing: its material, thickness and size, in the maker's units."""

from typing import assert_never

import numpy as np

from stackview.description.lamp import Lamp
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle
from stackview.description.units import inches, show_mm
from stackview.stack.placed import Placed

UNITS = ("mm", "in", "both")
_NAMES = {3: "triangle", 4: "square", 5: "pentagon", 6: "hexagon", 8: "octagon"}


def units_of(lamp: Lamp, asked: str | None = None) -> str:
    """Units to write: those asked for, else millimetres, with inches too for a lamp written in inches."""
    return asked if asked in UNITS else "both" if lamp.unit in ("in", "ft") else "mm"


def length(mm: float, units: str) -> str:
    """Write a length in millimetres, as an inch fraction, or both.

    Less than 1/16 in is shown in thousandths, for a fraction would say too little.

    >>> length(19.05, "mm"), length(19.05, "in"), length(19.05, "both")
    ('19.05 mm', '3/4 in', '19.05 mm (3/4 in)')
    """
    return {"mm": show_mm(mm), "in": inches(mm)}.get(units, f"{show_mm(mm)} ({inches(mm)})")


def size_words(lamp: Lamp, part: Placed, units: str) -> str:
    """Write how large a part is in plan, and how many there are of it."""
    outline, around = _outline_of(lamp, part)
    words = _plan(outline, part, units)
    return f"{around.count} × {words}" if around is not None and around.count > 1 else words


def part_lines(lamp: Lamp, part: Placed, units: str) -> tuple[str, str]:
    """Name of a part, and its material, thickness and size."""
    tall = length(part.top - part.underside, units)
    upright = "thick" if part.role == "layer" else "high" if part.role == "foot" else "long"
    material = part.material.name
    match part.sort:
        case "opal":
            material += " (opal acrylic)"
        case "sanded":
            material += " (clear acrylic, sanded)"
        case "clear":
            material += " (clear acrylic)"
        case "opaque":
            pass
        case _:
            assert_never(part.sort)
    return part.name, f"{material}, {tall} {upright}, {size_words(lamp, part, units)}"


def _outline_of(lamp: Lamp, part: Placed) -> tuple[Outline | None, Around | None]:
    for layer in lamp.layers:
        if layer.name == part.name:
            return layer.outline, layer.around
    for post in lamp.posts:
        if post.name == part.name:
            return post.outline, post.around
    if part.role == "core" and lamp.core is not None:
        return lamp.core.outline, None
    if part.role == "foot" and lamp.feet is not None:
        return Outline(Circle(lamp.feet.diameter)), lamp.feet.around
    return None, None


def _plan(outline: Outline | None, part: Placed, units: str) -> str:
    if outline is not None:
        return outline.size(lambda mm: length(mm, units))
    x, y = np.ptp(part.solid.vertices[:, :2], axis=0).tolist()
    return f"{length(round(x, 1), units)} × {length(round(y, 1), units)} over all"
