"""Meshes made ready for baking: edges short enough, normals split where the surface turns."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Whole, read_only
from stackview.solids.smooth import corners, crosses, edges, patches

STEPS = np.array([1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128])
"""Numbers of parts an edge is divided into; few, so that few patterns have to be made."""


def subdivided(
    vertices: NDArray[np.float64], triangles: NDArray[np.int64], edge: float, most: int
) -> tuple[NDArray[np.float64], NDArray[np.int64], NDArray[np.int64]]:
    """Cut every edge longer than ``edge`` [mm]; longer ones stay if more than ``most`` triangles came of it.

    Returns vertices (n, 3), triangles (m, 3) and for each of them the triangle it is part of.
    """
    ends, side = edges(triangles)
    lengths = np.linalg.norm(vertices[ends[:, 0]] - vertices[ends[:, 1]], axis=1)
    while True:
        number = STEPS[np.searchsorted(STEPS, np.minimum(lengths / edge, STEPS[-1]))]
        ordered = np.sort(number[side], axis=1)
        if (ordered[:, 0] * ordered[:, 2] + ordered[:, 2]).sum() <= most or edge > lengths.max(initial=0.0):
            break
        edge *= 1.25
    return _cut(vertices, triangles, ends, side, number)


def _cut(
    vertices: NDArray[np.float64], triangles: Whole, ends: Whole, side: Whole, number: Whole
) -> tuple[NDArray[np.float64], Whole, Whole]:
    """Cut edges with ``ends`` (e, 2) into ``number`` (e,) parts each; ``side`` (m, 3) are the triangles' edges."""
    starts = len(vertices) + np.cumsum(number - 1) - (number - 1)
    along = _along(number)
    fresh = (
        vertices[ends[along[0], 0]] + (vertices[ends[along[0], 1]] - vertices[ends[along[0], 0]]) * along[1]
    )
    vertices = np.concatenate([vertices, fresh])

    # The edge with the fewest parts becomes the foot, opposite the corner that rows start from.
    foot = number[side].argmin(axis=1)
    order = (foot[:, None] + np.array([2, 0, 1])) % 3
    corner = np.take_along_axis(triangles, order, axis=1)
    side = np.take_along_axis(side, order, axis=1)[:, [0, 1, 2]]
    # Edges of (a, b, c) = (apex, foot start, foot end): ab, bc, ca.
    counts = number[side]
    made, parents, added = [], [], [vertices]
    total = len(vertices)
    kinds, which = np.unique(counts, axis=0, return_inverse=True)
    for kind, (ab, bc, ca) in enumerate(kinds):
        chosen = np.flatnonzero(which.ravel() == kind)
        inner, pattern = _pattern(int(ab), int(bc), int(ca))
        ids, points, total = _numbered(chosen, corner, side, counts, ends, starts, vertices, inner, total)
        added.append(points)
        rows = ids[:, pattern].reshape(-1, 3)
        made.append(rows)
        parents.append(np.repeat(chosen, len(pattern)))
    return np.concatenate(added), np.concatenate(made), np.concatenate(parents)


def _along(number: Whole) -> tuple[Whole, NDArray[np.float64]]:
    """For every new point on an edge: the edge, and how far along it (column vector, 0 to 1)."""
    edge = np.repeat(np.arange(len(number)), number - 1)
    first = np.repeat(np.cumsum(number - 1) - (number - 1), number - 1)
    return edge, ((np.arange(len(edge)) - first + 1) / number[edge])[:, None]


def _numbered(
    chosen: Whole,
    corner: Whole,
    side: Whole,
    counts: Whole,
    ends: Whole,
    starts: Whole,
    vertices: NDArray[np.float64],
    inner: NDArray[np.float64],
    total: int,
) -> tuple[Whole, NDArray[np.float64], int]:
    """Vertex numbers (k, points) in the pattern's order for the chosen triangles, and new inner points."""
    columns = [corner[chosen]]
    for k in range(3):
        count = counts[chosen[0], k]
        place = np.arange(count - 1)[None]
        forward = ends[side[chosen, k], 0] == corner[chosen, k]
        place = np.where(forward[:, None], place, count - 2 - place)
        columns.append(starts[side[chosen, k]][:, None] + place)
    new = total + np.arange(len(chosen) * len(inner)).reshape(len(chosen), len(inner))
    columns.append(new)
    points = np.einsum("pk,tkx->tpx", inner, vertices[corner[chosen]]).reshape(-1, 3)
    return np.concatenate(columns, axis=1), points, total + new.size


@lru_cache(maxsize=4096)
def _pattern(ab: int, bc: int, ca: int) -> tuple[NDArray[np.float64], Whole]:
    """Inner points (p, 3) as shares of a, b, c, and triangles (t, 3), of a triangle with divided edges.

    Points are numbered a, b, c, those inside ab, bc and ca in that direction, then inner ones.
    Rows run from a to the foot bc, each with as many points as its length asks for; where one
    side has fewer parts than the other its points stand in several rows.
    """
    on_ab = [0, *range(3, 2 + ab), 1]
    on_bc = [1, *range(2 + ab, 1 + ab + bc), 2]
    on_ca = [2, *range(1 + ab + bc, ab + bc + ca), 0]
    rows_number = max(ab, ca)
    inner: list[tuple[float, float, float]] = []
    rows = [[0]]
    for i in range(1, rows_number):
        left, right = -(-i * ab // rows_number), -(-i * ca // rows_number)
        parts = max(1, -(-bc * i // rows_number))
        row = [on_ab[left]]
        for j in range(1, parts):
            s, t = (1 - j / parts) * left / ab, j / parts * right / ca
            row.append(ab + bc + ca + len(inner))
            inner.append((1 - s - t, s, t))
        rows.append([*row, on_ca[ca - right]])
    rows.append(on_bc)
    triangles = [t for upper, lower in pairwise(rows) for t in _between(upper, lower)]
    points, steps = np.array(inner, np.float64).reshape(-1, 3), np.array(triangles, np.int64)
    read_only((points, steps))
    return points, steps


def _between(upper: list[int], lower: list[int]) -> list[tuple[int, int, int]]:
    """Triangles between two rows of points, stepping on whichever row lags behind."""
    made = []
    i = j = 0
    while i < len(upper) - 1 or j < len(lower) - 1:
        ahead = (i + 1) * max(len(lower) - 1, 1) <= (j + 1) * max(len(upper) - 1, 1)
        if i < len(upper) - 1 and (ahead or j == len(lower) - 1):
            made.append((upper[i], lower[j], upper[i + 1]))
            i += 1
        else:
            made.append((upper[i], lower[j], lower[j + 1]))
            j += 1
    return [t for t in made if len(set(t)) == 3]


MOST_TRIANGLES = 70_000
"""Edges stay longer above this, so that a very large lamp costs picture quality and not the machine."""


@dataclass(frozen=True, slots=True, eq=False)
class Facets:
    """Triangles of many parts, and the corners at which light is stored.

    A corner is a vertex as seen from one smooth patch of surface: at a sharp edge one vertex
    has two corners, each with the normal of its own side.

    vertices : (n, 3) [mm]; triangles : (m, 3) of vertices; corner : (m, 3) of corners;
    part, face : (m,); flat : (m, 3) unit normals; at : (c,) vertex of each corner;
    normals : (c, 3); owner : (c,) part of each corner.
    """

    vertices: NDArray[np.float32]
    triangles: NDArray[np.int64]
    corner: NDArray[np.int64]
    part: NDArray[np.int64]
    face: NDArray[np.int8]
    flat: NDArray[np.float32]
    at: NDArray[np.int64]
    normals: NDArray[np.float32]
    owner: NDArray[np.int64]


Mesh = tuple[NDArray[np.float64], NDArray[np.int64], NDArray[np.int8]]
"""Vertices (n, 3), triangles (m, 3), faces (m,)."""


def facets(meshes: Sequence[Mesh], parts: Sequence[int], *, edge: float) -> Facets:
    """Join meshes, split every edge longer than ``edge`` [mm] and find corners and normals."""
    if not any(len(mesh[1]) for mesh in meshes):
        none = np.zeros(0, np.int64)
        return _corners(np.zeros((0, 3)), np.zeros((0, 3), np.int64), none, none, none)
    starts = np.cumsum([0, *(len(vertices) for vertices, _, _ in meshes)])
    vertices = np.concatenate([mesh[0] for mesh in meshes])
    triangles = np.concatenate([mesh[1] + start for mesh, start in zip(meshes, starts, strict=False)])
    face = np.concatenate([mesh[2] for mesh in meshes]).astype(np.int64)
    part = np.repeat(np.asarray(parts, np.int64), [len(mesh[1]) for mesh in meshes])

    area = np.linalg.norm(crosses(vertices, triangles), axis=1)
    kept = area > 1e-9
    triangles, face, part = triangles[kept], face[kept], part[kept]
    patch = patches(vertices, triangles)
    vertices, triangles, parent = subdivided(vertices, triangles, edge, MOST_TRIANGLES)
    return _corners(vertices, triangles, face[parent], part[parent], patch[parent])


def split_again(mesh: Facets, chosen: NDArray[np.bool_]) -> Facets:
    """The same surface with the edges of some triangles (m,) halved, and their neighbours cut to fit."""
    ends, side = edges(mesh.triangles)
    number = np.ones(len(ends), np.int64)
    number[side[chosen]] = 2
    vertices, triangles, parent = _cut(mesh.vertices.astype(np.float64), mesh.triangles, ends, side, number)
    patch = patches(vertices, triangles)
    return _corners(vertices, triangles, mesh.face[parent].astype(np.int64), mesh.part[parent], patch)


def _corners(
    vertices: NDArray[np.float64],
    triangles: NDArray[np.int64],
    face: NDArray[np.int64],
    part: NDArray[np.int64],
    patch: NDArray[np.int64],
) -> Facets:
    made = corners(vertices, triangles, patch)
    return Facets(
        vertices=vertices.astype(np.float32),
        triangles=triangles,
        corner=made.corner,
        part=part,
        face=face.astype(np.int8),
        flat=made.flat.astype(np.float32),
        at=made.at,
        normals=made.normals.astype(np.float32),
        owner=part[made.first // 3],
    )
