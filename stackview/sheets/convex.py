"""Convex pieces of a shape, and the sum of two of them: what no-fit shapes are made of.

Sums of convex shapes are found edge by edge: the edges of both in order of their direction (de Berg
and others, Computational Geometry, 3rd ed., section 13.3).
"""

from dataclasses import dataclass

import numpy as np
import shapely

from stackview.arrays import Floats

_STRAIGHT = 1e-9
"""A corner that turns the wrong way by less than this share is straight."""

_LEVEL = 1e-6
"""A turn back by less than this is none [rad]."""


def convex_pieces(corners: Floats) -> tuple[Floats, ...]:
    """Divide a shape without holes, corners (k, 2) counter-clockwise, into convex ones that cover just it.

    Triangles of its corners (constrained Delaunay, by shapely) are joined over their common sides while
    they stay convex: at most four times as many as the least (Hertel and Mehlhorn 1983).
    """
    if _is_convex(corners):
        return (corners,)
    triangles = shapely.constrained_delaunay_triangles(shapely.Polygon(corners))
    known: dict[tuple[float, float], int] = {}
    loops: dict[int, list[int]] = {}
    for number, triangle in enumerate(shapely.get_parts(triangles)):
        ring = shapely.get_coordinates(shapely.orient_polygons(triangle))[:-1]
        loops[number] = [known.setdefault((float(x), float(y)), len(known)) for x, y in ring]
    places = np.array(list(known))
    _join(loops, places)
    return tuple(places[loop] for loop in loops.values())


def _join(loops: dict[int, list[int]], places: Floats) -> None:
    """Join loops of corners over common sides while what comes of it is convex."""
    sides = {side: number for number, loop in loops.items() for side in _sides(loop)}
    for a, b in list(sides):
        one, other = sides.get((a, b)), sides.get((b, a))
        if one is None or other is None or one == other:
            continue
        joined = _over(loops[one], loops[other], a, b)
        if not _is_convex(places[joined]):
            continue
        loops[one] = joined
        del loops[other], sides[a, b], sides[b, a]
        for side in _sides(joined):
            sides[side] = one


def _sides(loop: list[int]) -> list[tuple[int, int]]:
    return list(zip(loop, loop[1:] + loop[:1], strict=True))


def _over(one: list[int], other: list[int], a: int, b: int) -> list[int]:
    """Two loops as one, without their common side from a to b (from b to a in the other)."""
    i, j = one.index(b), other.index(a)
    return [*(one[i:] + one[:i]), *(other[j:] + other[:j])[1:-1]]


def _is_convex(corners: Floats) -> bool:
    along = np.roll(corners, -1, axis=0) - corners
    after = np.roll(along, -1, axis=0)
    cross = along[:, 0] * after[:, 1] - along[:, 1] * after[:, 0]
    scale = np.hypot(*along.T) * np.hypot(*after.T)
    turn = np.arctan2(cross, (along * after).sum(axis=1)).sum()
    return bool((cross >= -_STRAIGHT * scale).all() and abs(turn - 2.0 * np.pi) < 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class ConvexEdges:
    """A convex shape as its lowest corner (2,) and its edges (k, 2) from there, counter-clockwise [mm].

    ``directions`` (k,) are those of the edges and never fall [rad].
    """

    lowest: Floats
    edges: Floats
    directions: Floats


def convex_edges(corners: Floats) -> ConvexEdges:
    """A convex shape, corners (k, 2) counter-clockwise, as its edges; a line is given as its two ends."""
    start = int(np.lexsort((corners[:, 0], corners[:, 1]))[0])
    loop = np.concatenate((corners[start:], corners[: start + 1]))
    edges = np.diff(loop, axis=0)
    edges = edges[np.hypot(*edges.T) > 0.0]
    # by the turns from edge to edge: an edge that is level but for rounding must not change its place
    angles = np.arctan2(edges[:, 1], edges[:, 0])
    turns = np.maximum(np.mod(np.diff(angles) + _LEVEL, 2.0 * np.pi) - _LEVEL, 0.0)
    directions = angles[0] + np.concatenate((np.zeros(1), np.cumsum(turns)))
    return ConvexEdges(loop[0], edges, directions)


def convex_sum(one: ConvexEdges, other: ConvexEdges) -> Floats:
    """Corners (k, 2) of all sums of a place of the one and a place of the other.

    >>> square = np.array(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)))
    >>> convex_sum(convex_edges(square), convex_edges(2.0 * square)).max(axis=0).tolist()
    [3.0, 3.0]
    """
    edges = np.concatenate((one.edges, other.edges))
    order = np.argsort(np.concatenate((one.directions, other.directions)), kind="stable")
    corners = np.cumsum(edges[order], axis=0)
    corners -= corners[-1]
    return np.asarray(corners + (one.lowest + other.lowest))
