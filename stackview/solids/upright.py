"""What of a solid stands upright through its whole height, where it stands in plan, and prisms made of such areas."""

import itertools
from dataclasses import dataclass

import numpy as np
import shapely

from stackview.arrays import Floats, Whole
from stackview.by_value import by_value, mark
from stackview.solids.solid import Face, Solid

_KEPT = 16_000_000
"""Areas kept for further variants of a lamp [bytes]."""
_LEAST = 1e-9
"""Triangles no larger in plan than this are walls, upright but for rounding [mm²]."""

_NOTHING = shapely.MultiPolygon()


@dataclass(frozen=True, slots=True, eq=False)
class UprightAreas:
    """Areas of one solid seen from above, whatever its height.

    through : where it is solid all the way from its lowest to its highest point
    within : outside this there is nothing of it
    """

    through: shapely.Geometry
    within: shapely.Geometry


def upright(solid: Solid) -> UprightAreas:
    """Both areas of a solid.

    A vertical line goes into a body or out of it only where it meets a face that is not upright. So it is within
    the body all the way where, between the level face on top and the one below, it meets no face.
    """
    return _upright(solid.ground)


@by_value(
    _KEPT,
    size=lambda both: int(24 * shapely.get_num_coordinates([both.through, both.within]).sum()),
    key=mark,
)
def _upright(solid: Solid) -> UprightAreas:
    corners = solid.vertices[solid.triangles]
    heights = corners[..., 2]
    a, b, c = (corners[:, k, :2] for k in range(3))
    turn = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    on_top = (heights == heights.max()).all(axis=1) & (turn > 0.0)
    below = (heights == heights.min()).all(axis=1) & (turn < 0.0)
    other = ~on_top & ~below & (np.abs(turn) > _LEAST)
    top, underside = (
        shapely.coverage_union_all(shapely.polygons(corners[some, :, :2])) for some in (on_top, below)
    )
    through, within = in_both(top, underside), in_either(top, underside)
    if other.any():
        rest = shapely.polygons(corners[other, :, :2])
        try:
            through = _polygons_of(shapely.difference(through, shapely.union_all(rest)))
            within = shapely.union_all([within, *rest])
        except shapely.errors.GEOSException:
            through, within = _NOTHING, shapely.box(*shapely.total_bounds([within, *rest]))
    return UprightAreas(through, within)


def in_both(one: shapely.Geometry, other: shapely.Geometry) -> shapely.Geometry:
    """Polygons that two areas share, or less where rounding leaves no answer."""
    if shapely.equals_exact(one, other):
        return one
    try:
        return _polygons_of(shapely.intersection(one, other))
    except shapely.errors.GEOSException:
        return _NOTHING


def in_either(one: shapely.Geometry, other: shapely.Geometry) -> shapely.Geometry:
    """The area of both, or more where rounding leaves no answer."""
    if shapely.equals_exact(one, other):
        return one
    try:
        return shapely.union(one, other)
    except shapely.errors.GEOSException:
        return shapely.box(*shapely.total_bounds([one, other]))


def _polygons_of(area: shapely.Geometry) -> shapely.MultiPolygon:
    """The polygons of an area, without the lines and points that touching shapes may share."""
    return shapely.MultiPolygon([part for part in shapely.get_parts(area) if part.geom_type == "Polygon"])


def prism(area: shapely.Geometry, bottom: float, top: float) -> Solid | None:
    """The upright solid over the polygons of an area, between two heights [mm]; None where there is no such mesh.

    That is an area without size, or one whose edges touch each other.
    """
    vertices: list[Floats] = []
    triangles: list[Whole] = []
    count = 0
    for polygon in shapely.get_parts(shapely.orient_polygons(area)):
        if polygon.area <= _LEAST:
            continue
        plan, tail, head = _edges(polygon)
        cap = _cap(polygon, plan)
        if cap is None or not np.array_equal(_rim(cap, len(plan)), np.sort(tail * len(plan) + head)):
            return None
        up = count + len(plan)
        triangles += [count + cap[:, ::-1], up + cap]
        triangles += [
            np.column_stack(side)
            for side in ((count + tail, count + head, up + head), (count + tail, up + head, up + tail))
        ]
        vertices += [np.column_stack((plan, np.full(len(plan), height))) for height in (bottom, top)]
        count = up + len(plan)
    if not vertices:
        return None
    made = np.concatenate(triangles)
    return Solid(np.concatenate(vertices), made, np.full(len(made), Face.OUTER, np.int8))


def _edges(polygon: shapely.Polygon) -> tuple[Floats, Whole, Whole]:
    """Corners (n, 2) of a polygon and, by their numbers, its edges: the polygon lies to the left of each."""
    rings = [shapely.get_coordinates(ring)[:-1] for ring in (polygon.exterior, *polygon.interiors)]
    tail = np.arange(sum(map(len, rings)))
    begin = np.cumsum([0, *map(len, rings)])
    head = np.concatenate([np.roll(tail[a:b], -1) for a, b in itertools.pairwise(begin)])
    return np.concatenate(rings), tail, head


def _cap(polygon: shapely.Polygon, plan: Floats) -> Whole | None:
    """Triangles (m, 3) of the polygon, counter-clockwise, by the numbers of its corners; None of corners that meet."""
    number = {place: k for k, place in enumerate(map(tuple, plan.tolist()))}
    flat = shapely.get_parts(shapely.constrained_delaunay_triangles(polygon))
    corners = shapely.get_coordinates(shapely.orient_polygons(flat)).reshape(-1, 4, 2)[:, :3].reshape(-1, 2)
    places = list(map(tuple, corners.tolist()))
    if len(number) < len(plan) or not number.keys() >= set(places):
        return None
    return np.array([number[place] for place in places], dtype=np.int64).reshape(-1, 3)


def _rim(triangles: Whole, size: int) -> Whole:
    """The edges that only one of the triangles has, in order, each as tail · ``size`` + head."""
    tail, head = triangles.ravel(), np.roll(triangles, -1, axis=1).ravel()
    return np.setdiff1d(tail * size + head, head * size + tail)
