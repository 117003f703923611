"""Closed curves of lines and arcs: extent, area, crossing. Vertices are (x, y, bulge) [mm]."""

import cmath
import math
from collections.abc import Sequence

from stackview.description.reach import arc_centre, on_arc

Vertex = tuple[float, float, float]
FACET = 0.01
"""Chord error of the facets that crossings are looked for on [mm]."""


def tidy(vertices: Sequence[Vertex]) -> list[Vertex]:
    """The curve without segments of no length, up to a thousandth of a micron."""
    return [
        vertex
        for index, vertex in enumerate(vertices)
        if math.dist(vertex[:2], vertices[(index + 1) % len(vertices)][:2]) > 1e-6
    ]


def _segments(vertices: Sequence[Vertex]) -> list[tuple[complex, complex, float]]:
    points = [complex(x, y) for x, y, _ in vertices]
    return [(start, points[(i + 1) % len(points)], vertices[i][2]) for i, start in enumerate(points)]


def signed_area(vertices: Sequence[Vertex]) -> float:
    """Area enclosed [mm²], positive where the curve runs counter-clockwise.

    Shoelace formula, plus each arc's segment r²(θ − sin θ)/2 with θ = 4·atan(bulge).

    >>> round(signed_area([(-1, 0, 1), (1, 0, 1)]), 12) == round(math.pi, 12)
    True
    """
    total = 0.0
    for start, end, bulge in _segments(vertices):
        total += (start.conjugate() * end).imag / 2
        if bulge:
            sweep = 4 * math.atan(bulge)
            radius = arc_centre(start, end, bulge)[1]
            total += radius * radius * (sweep - math.sin(sweep)) / 2
    return total


def extent(vertices: Sequence[Vertex]) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x and greatest y of the curve, its arcs included [mm].

    >>> extent([(-1, 0, 1), (1, 0, 1)])
    (-1.0, -1.0, 1.0, 1.0)
    """
    points: list[complex] = []
    for start, end, bulge in _segments(vertices):
        points.append(start)
        if bulge:
            centre, radius = arc_centre(start, end, bulge)
            extremes = (centre + radius * way for way in (1, 1j, -1, -1j))
            points += [point for point in extremes if on_arc(point, start, end, bulge, centre)]
    across, up = [point.real for point in points], [point.imag for point in points]
    return min(across), min(up), max(across), max(up)


def centred(vertices: Sequence[Vertex]) -> list[Vertex]:
    """The curve moved so that the middle of its extent is at 0, 0."""
    left, low, right, high = extent(vertices)
    x, y = (left + right) / 2, (low + high) / 2
    return [(vertex[0] - x, vertex[1] - y, vertex[2]) for vertex in vertices]


def facets(vertices: Sequence[Vertex], chord_error: float) -> list[tuple[float, float]]:
    """Points along the curve whose chords keep within ``chord_error`` of it [mm]."""
    points: list[complex] = []
    for start, end, bulge in _segments(vertices):
        points.append(start)
        if bulge:
            centre, radius = arc_centre(start, end, bulge)
            sweep = 4 * math.atan(bulge)
            # sagitta of one chord, r(1 − cos(θ/2)) ≤ chord_error
            step = 2 * math.acos(max(1 - chord_error / radius, 0.0))
            count = max(math.ceil(abs(sweep) / step), 1)
            points += [centre + (start - centre) * cmath.exp(1j * sweep * k / count) for k in range(1, count)]
    return [(point.real, point.imag) for point in points]


def crossing(vertices: Sequence[Vertex]) -> tuple[float, float] | None:
    """A place where the curve crosses or touches itself [mm], or None.

    Looked for on facets of :data:`FACET`; a curve that comes nearer to itself than that is not
    a shape to be cut either.
    """
    import re

    from shapely import Polygon
    from shapely.validation import explain_validity

    points = facets(vertices, FACET)
    if len(points) < 3:
        return None
    reason = explain_validity(Polygon(points))
    found = re.search(r"\[(\S+) (\S+)\]", reason)
    if "Self-intersection" not in reason or found is None:
        return None
    return float(found[1]), float(found[2])
