"""Outlines as exact closed curves of lines and arcs.

The value and its measures live in ``arcs``; they are offered here again, because a path is
what one gets from an outline.
"""

from functools import lru_cache

import numpy as np

from stackview.curves.arcs import (
    Array,
    Path,
    area,
    bounds,
    centroid,
    length,
    moved,
    polygon,
    turned,
    without_points,
)
from stackview.curves.crossing import crosses_itself
from stackview.curves.offset import offset, rounded
from stackview.description.outline import Around, Circle, Curve, Outline, Rectangle, Regular
from stackview.errors import SolidError

__all__ = [
    "Path",
    "area",
    "around",
    "bounds",
    "centroid",
    "length",
    "moved",
    "path_of",
    "polygon",
    "turned",
]

QUARTER = float(np.tan(np.pi / 8))
"""Bulge of a quarter turn."""


@lru_cache(maxsize=512)
def path_of(outline: Outline, field: str = "outline") -> Path:
    """Make the exact curve of an outline: grown, its corners as the cutter leaves them, turned and moved.

    Sharp corners stay sharp and a corner radius q becomes q + grow (sharp if that is not
    positive); a curve is offset exactly, line by line and arc by arc. Raises SolidError naming
    ``field`` where nothing is left, the curve crosses itself or the cutter does not fit.
    """
    shape = outline.shape
    if isinstance(shape, Circle):
        path = _circle(shape, outline.grow, outline.cutter_radius, field)
        return moved(path, *outline.at)
    if isinstance(shape, Rectangle):
        path = _rectangle(shape, outline.grow, outline.cutter_radius, field)
    elif isinstance(shape, Regular):
        path = _regular(shape, outline.grow, outline.cutter_radius, field)
    else:
        path = _curve(shape, outline.grow, outline.cutter_radius, field)
    return moved(turned(path, outline.turn), *outline.at)


def around(path: Path, copies: Around | None) -> tuple[Path, ...]:
    """Copy a path around the axis: each moved to the front of the circle, then turned with its bearing."""
    if copies is None:
        return (path,)
    front = moved(path, 0.0, -0.5 * copies.circle)
    return tuple(turned(front, copies.first + 360.0 * k / copies.count) for k in range(copies.count))


def _circle(shape: Circle, grow: float, cutter: float, field: str) -> Path:
    radius = 0.5 * shape.diameter + grow
    if radius <= 0.0:
        raise _too_small(field, f"circle of diameter {shape.diameter:.6g} mm", grow, 0.5 * shape.diameter)
    if cutter > radius + 1e-9:
        raise SolidError(
            field,
            f"a circle of diameter {2.0 * radius:.6g} mm is smaller than the cutter "
            f"of radius {cutter:.6g} mm (diameter {2.0 * cutter:.6g} mm): use a cutter of radius "
            f"{radius:.6g} mm at most, or a larger circle",
        )
    xs = ((radius, 0.0), (0.0, radius), (-radius, 0.0), (0.0, -radius))
    return Path(np.array([(x, y, QUARTER) for x, y in xs]))


def _rectangle(shape: Rectangle, grow: float, cutter: float, field: str) -> Path:
    x, y = 0.5 * shape.width + grow, 0.5 * shape.depth + grow
    name = f"rectangle of {shape.width:.6g} × {shape.depth:.6g} mm"
    least = 0.5 * min(shape.width, shape.depth)
    if min(x, y) <= 0.0:
        raise _too_small(field, name, grow, least)
    corner = _corner(shape.corner_radius, grow, cutter, min(x, y), name, field)
    corners = np.array(((x, -y), (x, y), (-x, y), (-x, -y)))
    return _with_corners(corners, corner)


def _regular(shape: Regular, grow: float, cutter: float, field: str) -> Path:
    inner = 0.5 * shape.across_flats + grow
    name = f"{shape.sides}-sided shape, {shape.across_flats:.6g} mm across flats"
    if inner <= 0.0:
        raise _too_small(field, name, grow, 0.5 * shape.across_flats)
    corner = _corner(shape.corner_radius, grow, cutter, inner, name, field)
    half = np.pi / shape.sides
    angle = -0.5 * np.pi + half * (1.0 + 2.0 * np.arange(shape.sides))
    corners = inner / np.cos(half) * np.column_stack((np.cos(angle), np.sin(angle)))
    return _with_corners(corners, corner)


def _curve(shape: Curve, grow: float, cutter: float, field: str) -> Path:
    path = without_points(np.array(shape.vertices, dtype=np.float64).reshape(-1, 3))
    where = crosses_itself(path) if len(path) > 1 else None
    if where is None and (len(path) < 2 or area(path) <= 0.0):
        raise SolidError(
            field,
            f"the curve from {shape.source} encloses nothing: draw it as one closed loop, counter-clockwise",
        )
    if where is not None:
        place = f" near ({where[0]:.2f}, {where[1]:.2f}) mm"
        raise SolidError(
            field, f"the curve from {shape.source} crosses itself{place}: draw it as one simple loop"
        )
    path = offset(path, grow, field=field)
    return rounded(path, cutter, field) if cutter > 0.0 else path


def _corner(radius: float, grow: float, cutter: float, most: float, name: str, field: str) -> float:
    """Grow a corner radius, not under the cutter's; ``most`` is the inscribed circle's radius."""
    corner = max(radius + grow, 0.0) if radius > 0.0 else 0.0
    if corner > most + 1e-9:
        raise SolidError(
            field,
            f"a corner radius of {radius:.6g} mm is too large for a {name}: {most - grow:.6g} mm is the most",
        )
    if cutter > most + 1e-9:
        raise SolidError(
            field,
            f"a {name} is too small for a cutter of radius {cutter:.6g} mm "
            f"(diameter {2.0 * cutter:.6g} mm): use one of radius {most:.6g} mm at most, or a larger outline",
        )
    return min(max(corner, cutter), most)


def _with_corners(corners: Array, radius: float) -> Path:
    """Round the corners (n, 2) of a polygon, each by a tangent arc of ``radius`` [mm].

    The arc begins r·tan(turn/2) before the corner and sweeps the turn (plane geometry).
    """
    n = len(corners)
    if radius <= 0.0:
        return Path(np.column_stack((corners, np.zeros(n))))
    ahead = np.roll(corners, -1, axis=0) - corners
    size = np.hypot(ahead[:, 0], ahead[:, 1])
    ahead /= size[:, None]
    back = np.roll(ahead, 1, axis=0)
    turn = np.arctan2(back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0], (back * ahead).sum(axis=1))
    cut = (radius * np.tan(0.5 * turn))[:, None]
    into = np.column_stack((corners - back * cut, np.tan(0.25 * turn)))
    out = np.column_stack((corners + ahead * cut, np.zeros(n)))
    rows = np.stack((into, out), axis=1).reshape(-1, 3)
    return without_points(rows)


def _too_small(field: str, name: str, grow: float, most: float) -> SolidError:
    return SolidError(
        field,
        f"an inset of {-grow:.6g} mm per side leaves nothing of a {name}: it must stay under {most:.6g} mm",
    )
