"""Footing: how wide an area is that carries something, and how far inside its hull a weight lies."""

from math import inf

import shapely
from shapely.geometry.base import BaseGeometry


def hull_margin(area: BaseGeometry, point: tuple[float, float]) -> float:
    """Distance [mm] of a point inside the convex hull of an area; negative outside, −∞ where there is no area.

    >>> round(hull_margin(shapely.box(-10, -10, 10, 10), (4.0, 0.0)), 9)
    6.0
    >>> round(hull_margin(shapely.box(-10, -10, 10, 10), (13.0, 14.0)), 9)
    -5.0
    """
    if area.is_empty:
        return -inf
    hull, there = shapely.convex_hull(area), shapely.Point(point)
    away = float(shapely.boundary(hull).distance(there))
    return away if hull.covers(there) else -away


def width_of(area: BaseGeometry, most: float) -> float:
    """Diameter of the largest circle inside an area, up to ``most`` [mm].

    By bisection: a circle of diameter d fits where something is left when every edge moves in by d/2.

    >>> ring = shapely.Point(0, 0).buffer(20, 256).difference(shapely.Point(0, 0).buffer(19, 256))
    >>> round(width_of(ring, 10.0), 2), width_of(ring, 0.5)
    (1.0, 0.5)
    """

    def fits(width: float) -> bool:
        return not area.buffer(-0.5 * width, quad_segs=32).is_empty

    if area.is_empty or fits(most):
        return 0.0 if area.is_empty else most
    low, high = 0.0, most
    while high - low > 1e-4:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low
