"""What a part is cut to, and how far it reaches across a view: by its exact curve, never by its facets."""

from collections.abc import Iterable

from stackview.curves.arcs import Path, bounds, turned
from stackview.description.lamp import Lamp, Layer, Post
from stackview.description.outline import Around, Outline, around, path_of
from stackview.description.shapes import Circle
from stackview.stack.placed import Placed


def outline_of(lamp: Lamp, part: Placed) -> tuple[Outline, Around | None]:
    """What a part of the lamp is cut to, and how its copies stand about the axis.

    Raises KeyError for a part that is not the lamp's.
    """
    if part.is_core and lamp.core is not None:
        return lamp.core.outline, None
    if part.is_foot and lamp.feet is not None:
        return Outline(Circle(lamp.feet.diameter)), lamp.feet.around
    if part.is_cord and lamp.cord is not None:
        return Outline(Circle(lamp.cord.diameter), at=lamp.cord.at), None
    named: tuple[Layer | Post, ...] = (*lamp.layers, *lamp.posts)
    for one in named:
        if one.name == part.name:
            return one.outline, one.around
    raise KeyError(part.name)


def plan_of(lamp: Lamp, part: Placed) -> tuple[Path, ...]:
    """The outer curve of a part as it stands, one for each copy about the axis."""
    outline, copies = outline_of(lamp, part)
    return tuple(turned(path, part.turn) for path in around(path_of(outline), copies))


def box_across(lamp: Lamp, parts: Iterable[Placed], bearing: float) -> tuple[float, float, float, float]:
    """Least and greatest reach of parts in a view from ``bearing`` [°]: x0, y0, x1, y1 [mm].

    x counts to the right of whoever looks, y away from them.
    """
    boxes = [bounds(turned(path, -bearing)) for part in parts for path in plan_of(lamp, part)]
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)
