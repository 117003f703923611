"""How large a finished part is: the rectangle about it, along its grain where it has one."""

from dataclasses import dataclass, replace

import numpy as np

from stackview.curves.arcs import Path, bounds, pieces_of, turned
from stackview.description.lamp import Layer
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Curve
from stackview.description.units import Units
from stackview.shop.drawn_cuts import circle_of

_MOST_SIDES = 200


@dataclass(frozen=True, slots=True)
class PartSize:
    """The rectangle about a part [mm]: ``along`` its grain and ``across`` it, or its long side and its short one."""

    along: float
    across: float

    @property
    def area(self) -> float:
        """What the rectangle covers [mm²]."""
        return self.along * self.across


def part_size(layer: Layer) -> PartSize:
    """The rectangle about one piece of a layer, exact on its curve.

    Where the material has a grain it lies along that; else it is the smallest with a side along one
    of the straight sides of the outline (for a convex outline of lines that is the smallest of all:
    Freeman & Shapira 1975), or along the layer's own axes.
    """
    path = path_of(layer.outline)
    if layer.material.is_figured:
        # a bearing g points along (sin g, −cos g), which is g − 90° from x
        return PartSize(*_box(path, 90.0 - layer.grain))
    sides = [_box(path, turn) for turn in (0.0, *_sides(path))]
    least = min(sides, key=lambda box: round(box[0] * box[1], 6))
    return PartSize(max(least), min(least))


def exact_size(outline: Outline, units: Units) -> str:
    """How large an outline is, in words, for whoever cuts it: a drawn curve too as exactly as it is drawn.

    >>> from stackview.description.shapes import Circle
    >>> exact_size(Outline(Circle(90.0), grow=-2.5), Units("mm"))
    '⌀ 85 mm'
    """
    return size_of_path(outline, path_of(replace(outline, turn=0.0)), units)


def size_of_path(outline: Outline, path: Path, units: Units) -> str:
    """The same of a path that it is cut to: of a drawn curve the box about that, corners that the cutter leaves round."""
    if not isinstance(outline.shape, Curve):
        return outline.size(units)
    return f"{units.span(*_box(path, 0.0))} over all"


def shape_words(outline: Outline, units: Units) -> str:
    """The same with its corner radii, which a drawn curve leaves to its drawing.

    >>> from stackview.description.shapes import Rectangle
    >>> shape_words(Outline(Rectangle(90.0, 60.0, 8.0)), Units("mm"))
    '90 mm × 60 mm, corners R 8 mm'
    """
    corners = "" if isinstance(outline.shape, Curve) else corner_words(path_of(outline), units)
    return f"{exact_size(outline, units)}{corners}"


def corner_words(path: Path, units: Units) -> str:
    """Its corner radii, or of a curve of many arcs the smallest."""
    if circle_of(path) is not None:
        return ""
    p = pieces_of(path)
    if not p.arc.any():
        return ", corners sharp"
    radii = sorted({round(float(radius), 6) for radius in p.radius[p.arc]})
    if len(radii) <= 3:
        return f", corners R {' and '.join(units.show(radius) for radius in radii)}"
    # an inside corner is an arc that turns with the curve
    return f", least R {units.show(float(p.radius[p.arc & (p.sweep > 0.0)].min()))}"


def to_a_64th(mm: float, units: Units) -> str:
    """What a rule in inches shows: to the nearest 64th; empty where a length is a 64th, or a rule is metric.

    >>> to_a_64th(161.3154, Units("in")), to_a_64th(139.7, Units("in")), to_a_64th(161.3, Units("mm"))
    ('6-11/32 in', '', '')
    """
    parts = round(mm / 25.4 * 64.0)
    if not units.in_inches or abs(mm / 25.4 * 64.0 - parts) < 1e-4:
        return ""
    return units.plain(parts / 64.0 * 25.4)


def _box(path: Path, turn: float) -> tuple[float, float]:
    x0, y0, x1, y1 = bounds(turned(path, turn))
    return x1 - x0, y1 - y0


def _sides(path: Path) -> list[float]:
    """The turns that bring each straight side level [°]."""
    p = pieces_of(path)
    way = (p.end - p.start)[~p.arc][:_MOST_SIDES]
    return [float(turn) for turn in -np.degrees(np.arctan2(way[:, 1], way[:, 0]))]
