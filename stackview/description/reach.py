"""How far an outline reaches from its own centre: the circles inside and around it.

A cheap, certain test: what does not pass these circles cannot fit. What passes them is judged
on the exact curves when the solids are made.
"""

import math
from functools import lru_cache

from stackview.description.outline import Circle, Curve, Outline, Rectangle, Regular


def inner_reach(outline: Outline) -> float:
    """Radius of the largest circle about the outline's own centre that lies inside it [mm].

    Exact for circles, rectangles and polygons at any growth, and for curves not grown; 0 or
    less where nothing is left. A curve's circle is 0 if its centre lies outside it.

    >>> inner_reach(Outline(Rectangle(150, 90), grow=-14))
    31.0
    """
    shape = outline.shape
    match shape:
        case Circle():
            return shape.diameter / 2 + outline.grow
        case Rectangle():
            return min(shape.width, shape.depth) / 2 + outline.grow
        case Regular():
            return shape.across_flats / 2 + outline.grow
        case Curve():
            return _curve_reach(shape)[0] + outline.grow


def outer_reach(outline: Outline) -> float:
    """Radius of the smallest circle about the outline's own centre that holds it [mm].

    Exact for circles, rectangles and polygons; for a curve exact where not grown, and not too
    small where inset (a point p of the inset has a disc of the inset's width around it inside
    the curve, so |p| + width ≤ the curve's own reach).

    >>> outer_reach(Outline(Rectangle(6, 8)))
    5.0
    """
    shape, grow = outline.shape, outline.grow
    match shape:
        case Circle():
            return shape.diameter / 2 + grow
        case Rectangle():
            radius = max(shape.corner_radius + grow, 0.0)
            half_width, half_depth = shape.width / 2 + grow, shape.depth / 2 + grow
            return math.hypot(half_width - radius, half_depth - radius) + radius
        case Regular():
            # a rounded corner's centre lies on the ray to the corner, `radius` inside both flats
            radius = max(shape.corner_radius + grow, 0.0) if shape.corner_radius else 0.0
            flat = shape.across_flats / 2 + grow
            return (flat - radius) / math.cos(math.pi / shape.sides) + radius
        case Curve():
            return _curve_reach(shape)[1] + grow


@lru_cache(maxsize=64)
def _curve_reach(curve: Curve) -> tuple[float, float]:
    """Least and greatest distance of the curve from its centre, 0 for the least if that is outside."""
    points = [complex(x, y) for x, y, _ in curve.vertices]
    winding, least, greatest = 0.0, math.inf, 0.0
    for index, start in enumerate(points):
        end, bulge = points[(index + 1) % len(points)], curve.vertices[index][2]
        low, high = _segment_reach(start, end, bulge)
        least, greatest = min(least, low), max(greatest, high)
        winding += _swept(start, end, bulge)
    return (least if abs(winding) > math.pi else 0.0), greatest


def _segment_reach(start: complex, end: complex, bulge: float) -> tuple[float, float]:
    ends = (abs(start), abs(end))
    if bulge == 0.0:
        along = end - start
        share = 0.0 if along == 0 else -(start * along.conjugate()).real / abs(along) ** 2
        foot = abs(start + min(max(share, 0.0), 1.0) * along)
        return min(foot, *ends), max(ends)
    centre, radius = arc_centre(start, end, bulge)
    low, high = min(ends), max(ends)
    if centre:
        far = centre + radius * centre / abs(centre)
        near = centre - radius * centre / abs(centre)
        if on_arc(far, start, end, bulge, centre):
            high = max(high, abs(far))
        if on_arc(near, start, end, bulge, centre):
            low = min(low, abs(near))
    return low, high


def arc_centre(start: complex, end: complex, bulge: float) -> tuple[complex, float]:
    """Centre and radius of the arc between two points with bulge b = tan(sweep/4).

    With the chord c from start to end, the centre is start + c/2 + i·c·(1 − b²)/(4b) and the
    radius |c|·(1 + b²)/(4|b|) (plane geometry; DXF reference, group code 42, for the bulge).

    >>> arc_centre(1 + 0j, -1 + 0j, 1.0)
    (0j, 1.0)
    """
    chord = end - start
    centre = start + chord / 2 + 1j * chord * (1 - bulge * bulge) / (4 * bulge)
    return centre, abs(chord) * (1 + bulge * bulge) / (4 * abs(bulge))


def on_arc(point: complex, start: complex, end: complex, bulge: float, centre: complex) -> bool:
    """Whether a point of the arc's full circle lies on the arc itself."""
    sweep = 4 * math.atan(bulge)
    turned = math.atan2(*_sin_cos(start - centre, point - centre))
    turned = turned % (2 * math.pi) if sweep > 0 else -((-turned) % (2 * math.pi))
    return abs(turned) <= abs(sweep) + 1e-12 or end == point


def _sin_cos(first: complex, second: complex) -> tuple[float, float]:
    turned = second * first.conjugate()
    return turned.imag, turned.real


def _swept(start: complex, end: complex, bulge: float) -> float:
    """Angle that the segment sweeps seen from the centre, arcs taken through their middle [rad]."""
    if bulge == 0.0:
        return math.atan2(*_sin_cos(start, end))
    middle = start + (end - start) / 2 - 1j * (end - start) * bulge / 2
    return math.atan2(*_sin_cos(start, middle)) + math.atan2(*_sin_cos(middle, end))
