"""Joints: where the level faces of two parts touch, straight from the meshes as they stand."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from stackview.curves.arcs import Array
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed

_LEVEL = 1e-6
"""Faces within this height of each other touch [mm]."""
_LEAST = 1.0
"""Parts of a joint smaller than this are slivers between facets [mm²]."""
_JOINED = ("layer", "core")


@dataclass(frozen=True, slots=True)
class Strip:
    """One connected piece of a joint: its area [mm²], the length of its midline and its narrowest width [mm].

    The midline is half of all edges together, exact for a band between two parallel curves; a
    piece without a hole has no narrowest width. ``open_edges`` are the inner edges that look
    into an opening, (k, 2) each, clockwise; ``to_groove`` says whether any edge looks at a groove.
    """

    area: float
    length: float
    outer: float
    """Length of its outer edge [mm]."""
    narrowest: float | None
    open_edges: tuple[Array, ...]
    to_groove: bool

    @property
    def width(self) -> float:
        """Mean width [mm]."""
        return self.area / self.length


@dataclass(frozen=True, slots=True, eq=False)
class Joint:
    """Two parts that touch at one height [mm].

    ``carries`` and ``rests`` are the whole faces that meet there, ``area`` what they share.
    """

    lower: Placed
    upper: Placed
    height: float
    carries: shapely.Geometry
    rests: shapely.Geometry
    area: shapely.Geometry
    strips: tuple[Strip, ...]

    @property
    def name(self) -> str:
        """The joint as a maker would call it."""
        return f"{self.upper.name} on {self.lower.name}"


@lru_cache(maxsize=4)
def joints(stack: Stack) -> tuple[Joint, ...]:
    """Every joint between layers and core, from the bottom up."""
    parts = [part for part in stack.placed if part.role in _JOINED]
    up = {part.name: tuple(_faces(part, upwards=True)) for part in parts}
    down = {part.name: tuple(_faces(part, upwards=False)) for part in parts}
    found = []
    for lower in parts:
        for upper in parts:
            if upper is lower or upper.underside >= lower.top + _LEVEL or upper.top <= lower.underside:
                continue
            for height, carries in up[lower.name]:
                for level, rests in down[upper.name]:
                    if abs(height - level) > _LEVEL:
                        continue
                    area = shapely.intersection(carries, rests)
                    strips = strips_of(area)
                    if strips:
                        found.append(Joint(lower, upper, height, carries, rests, area, strips))
    return tuple(sorted(found, key=lambda joint: (joint.height, joint.name)))


def strips_of(area: shapely.Geometry) -> tuple[Strip, ...]:
    """The connected pieces of a contact area, slivers left out.

    An edge round another piece, or a piece's edge within another's, looks at a groove.

    >>> ring = shapely.Point(0, 0).buffer(20, 64).difference(shapely.Point(0, 0).buffer(15, 64))
    >>> (strip,) = strips_of(ring)
    >>> round(strip.narrowest, 2), round(strip.width, 2), len(strip.open_edges)
    (5.0, 5.0, 1)
    """
    pieces = [
        piece
        for piece in shapely.get_parts(shapely.get_parts(area))
        if piece.geom_type == "Polygon" and piece.area > _LEAST
    ]
    insides = [[shapely.Polygon(ring) for ring in piece.interiors] for piece in pieces]
    found = []
    for index, piece in enumerate(pieces):
        others = [other for k, other in enumerate(pieces) if k != index]
        within = any(hole.contains(piece) for k, holes in enumerate(insides) if k != index for hole in holes)
        open_edges, closed = [], within
        for ring, hole in zip(piece.interiors, insides[index], strict=True):
            if any(hole.contains(other) for other in others):
                closed = True
            else:
                open_edges.append(np.asarray(ring.coords)[:-1])
        edges = [np.asarray(edge) for edge in open_edges]
        narrow = [piece.exterior.distance(ring) for ring in piece.interiors]
        found.append(
            Strip(
                float(piece.area),
                float(piece.length) / 2.0,
                float(piece.exterior.length),
                float(min(narrow)) if narrow else None,
                tuple(edges),
                closed,
            )
        )
    return tuple(found)


def _faces(part: Placed, *, upwards: bool) -> Iterator[tuple[float, shapely.Geometry]]:
    """Height and area of each level face of a part that looks up (or down)."""
    solid = part.solid
    corners = solid.vertices[solid.triangles]
    heights = corners[:, :, 2]
    level = np.ptp(heights, axis=1) < _LEVEL
    a, b, c = (corners[level, k, :2] for k in range(3))
    turn = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    chosen = turn > 0.0 if upwards else turn < 0.0
    flat, height = corners[level][chosen][:, :, :2], heights[level][chosen].mean(axis=1)
    for value in np.unique(np.round(height, 6)):
        triangles = shapely.polygons(flat[np.abs(height - value) < _LEVEL])
        yield float(value), shapely.coverage_union_all(triangles)
