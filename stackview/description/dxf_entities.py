"""The points of what a DXF draws: circles and polylines, each entity as it stands in its file."""

from typing import Any

from stackview.curves.biarcs import Vertex
from stackview.description.units import shown


class EntityError(ValueError):
    """An entity that lacks what it is made of; the message is meant for the maker."""


def points_of(entity: Any) -> tuple[list[Vertex], bool] | None:
    """Vertices of an entity, seen from above, and whether it is closed; None for what is no curve read here.

    Looked at from below (its extrusion points down), x and every arc's sense are turned round.
    Raises EntityError for an entity without its centre, or one of its vertices without its place.
    """
    try:
        drawn = _drawn(entity)
        mirror = -1.0 if entity.dxf.extrusion.z < 0 else 1.0
    except (AttributeError, IndexError, TypeError, ValueError):
        # the library gives None, or a list too short, for what an entity lacks
        kind = shown(entity.dxftype().lower())
        raise EntityError(
            f"holds a {kind} without all of its numbers: draw it again, or save it again as R2000 or later"
        ) from None
    if drawn is None:
        return None
    vertices, closed = drawn
    return [(x * mirror, y, bulge * mirror) for x, y, bulge in vertices], closed


def _drawn(entity: Any) -> tuple[list[Vertex], bool] | None:
    kind = entity.dxftype()
    if kind == "CIRCLE":
        x, y, radius = entity.dxf.center.x, entity.dxf.center.y, entity.dxf.radius
        return [(x - radius, y, 1.0), (x + radius, y, 1.0)], True
    if kind == "LWPOLYLINE":
        return [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")], bool(entity.closed)
    if kind == "POLYLINE" and (entity.is_2d_polyline or entity.is_3d_polyline):
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in entity.vertices]
        return points, bool(entity.is_closed)
    return None
