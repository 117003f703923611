"""What is said of a part beside a drawing: its material, thickness and size, in the maker's units."""

from typing import assert_never

import numpy as np

from stackview.description.lamp import Lamp
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle
from stackview.description.units import Units
from stackview.stack.placed import Placed


def size_words(lamp: Lamp, part: Placed, units: Units) -> str:
    """Write how large a part is in plan, and how many there are of it."""
    outline, around = _outline_of(lamp, part)
    words = _plan(outline, part, units)
    return f"{around.count} × {words}" if around is not None and around.count > 1 else words


def part_lines(lamp: Lamp, part: Placed, units: Units) -> tuple[str, str]:
    """Name of a part, and its material, thickness and size."""
    tall = units.show(part.tall)
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


def _plan(outline: Outline | None, part: Placed, units: Units) -> str:
    if outline is not None:
        return outline.size(units)
    x, y = np.ptp(part.solid.vertices[:, :2], axis=0).tolist()
    return f"{units.span(units.settled(x), units.settled(y))} over all"
