"""Where one shape may not stand beside another, and where it may stand inside a region.

The places of a moved shape B at which it overlaps a fixed A are the Minkowski sum of A and −B
(Bennell and Oliveira, The geometry of nesting problems, EJOR 184, 2008). Both are taken a half of the
gap larger, so that the edge of the sum is where they stand just the gap apart.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.sheets.convex import ConvexEdges, convex_edges, convex_pieces, convex_sum

EXACT_FIT = 1e-3
"""What touching shapes may give away [mm]: an exact fit must not fail by rounding. Far below any saw."""
_GRID = 1e-6
"""Grid on which shapes are joined where they cannot be joined as they are [mm]."""
_SPECK = 1e-9
"""Less than the room of an exact fit, a hair wide and long, and far more than rounding leaves [mm²]."""
_MITRE = 1.01
"""Corners of a shape made larger reach at most this times as far as its sides: nearly round, and never less."""
_SMOOTHER, _MANY = 0.03, 120
"""A hollow shape of many corners is made smoother by so much, outwards [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Fitted:
    """A shape in one of its turns, ready to be fitted beside others.

    ``grown`` is the shape a half of the gap larger, as convex pieces; ``grown_back`` and ``plain_back`` are
    that one and the shape itself turned by 180° about the origin. ``corner`` (2,) is one of the shape's own;
    ``box`` is left, lower, right, upper of the shape itself [mm].
    """

    grown: tuple[ConvexEdges, ...]
    grown_back: tuple[ConvexEdges, ...]
    plain_back: tuple[ConvexEdges, ...]
    corner: Floats
    box: tuple[float, float, float, float]


def fitted(corners: Floats, gap: float) -> Fitted:
    """Make a shape ready, its corners (k, 2) counter-clockwise [mm], to stand ``gap`` [mm] from its like."""
    shape = shapely.Polygon(corners)
    if len(corners) > _MANY and shapely.area(shapely.convex_hull(shape)) > shape.area * (1.0 + 1e-9):
        smooth = shape.simplify(_SMOOTHER).buffer(_SMOOTHER, join_style="mitre")
        # without the corners, the shape would reach farther than it does
        shape = shapely.intersection(smooth, shapely.box(*shape.bounds))
    grown = shape.buffer(0.5 * (gap - EXACT_FIT), join_style="mitre", mitre_limit=_MITRE)
    x0, y0, x1, y1 = shape.bounds
    own, larger = convex_pieces(_ring(shape)), convex_pieces(_ring(grown))
    return Fitted(
        tuple(map(convex_edges, larger)),
        tuple(convex_edges(-piece) for piece in larger),
        tuple(convex_edges(-piece) for piece in own),
        own[0][0],
        (x0, y0, x1, y1),
    )


def _ring(shape: shapely.Geometry) -> Floats:
    return np.asarray(shapely.get_coordinates(shapely.orient_polygons(shape).exterior)[:-1])


def no_fit(fixed: Fitted, moved: Fitted) -> shapely.Geometry:
    """All places of ``moved``'s origin at which it would stand nearer than the gap to ``fixed`` at (0, 0)."""
    return united([_sum(one, other) for one in fixed.grown for other in moved.grown_back])


def _sum(one: ConvexEdges, other: ConvexEdges) -> shapely.Geometry:
    """The sum of two convex shapes; its hull, for corners that are straight but for rounding may cross their sides."""
    return shapely.convex_hull(shapely.LineString(convex_sum(one, other)))


@dataclass(frozen=True, slots=True, eq=False)
class Region:
    """What a part may cover: a ``face`` without holes, less ``zones``, shapes that it may not touch."""

    face: shapely.Geometry
    zones: tuple[shapely.Geometry, ...] = ()

    @property
    def area(self) -> float:
        """What parts may cover of it [mm²]."""
        return float(shapely.difference(self.face, united(self.zones)).area)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, lower, right, upper of the face [mm]."""
        left, low, right, high = self.face.bounds
        return left, low, right, high


def inner_fit(region: Region, moved: Fitted) -> shapely.Geometry:
    """All places of ``moved``'s origin at which it lies wholly in a region; its edge may touch the region's.

    It lies inside a face where one of its places does and no side of the face meets it; and it may stand
    nowhere where it overlaps a zone.
    """
    wide = region.face.buffer(0.5 * EXACT_FIT, join_style="mitre")
    places = united([_inner_fit(part, moved) for part in shapely.get_parts(wide)])
    taken = [
        _sum(convex_edges(piece), other)
        for zone in region.zones
        for piece in convex_pieces(_ring(zone))
        for other in moved.plain_back
    ]
    return without(places, taken) if taken else places


def _inner_fit(face: shapely.Geometry, moved: Fitted) -> shapely.Geometry:
    left, low, right, high = face.bounds
    x0, y0, x1, y1 = moved.box
    if right - left < x1 - x0 or high - low < y1 - y0:
        return shapely.Polygon()
    if face.area >= (1.0 - 1e-12) * (right - left) * (high - low):
        return shapely.box(left - x0, low - y0, right - x1, high - y1)
    ring = shapely.get_coordinates(face.exterior)
    sides = [convex_edges(ring[k : k + 2]) for k in range(len(ring) - 1)]
    met = [_sum(side, piece) for side in sides for piece in moved.plain_back]
    return without(shifted(face, -moved.corner), met)


def united(shapes: Sequence[shapely.Geometry]) -> shapely.Geometry:
    """All shapes as one; where rounding is in the way, on a grid far finer than a hair."""
    try:
        return shapely.union_all(shapes)
    except shapely.errors.GEOSException:
        return shapely.union_all([shapely.set_precision(shape, _GRID) for shape in shapes], grid_size=_GRID)


def without(shape: shapely.Geometry, taken: Sequence[shapely.Geometry]) -> shapely.Geometry:
    """What is left of a shape once others are taken off; specks that rounding leaves are nothing."""
    off = united(taken)
    try:
        left = shapely.difference(shape, off)
    except shapely.errors.GEOSException:
        left = shapely.difference(shapely.set_precision(shape, _GRID), off, grid_size=_GRID)
    parts = shapely.get_parts(left)
    return shapely.MultiPolygon([part for part in parts if part.area > _SPECK])


def shifted(shape: shapely.Geometry, at: Sequence[float] | Floats) -> shapely.Geometry:
    """The same shape, moved."""
    return shapely.transform(shape, lambda places: places + np.asarray(at))
