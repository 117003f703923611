"""Meshes made ready for baking: edges short enough, normals split where the surface turns."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.pictures.subdivide import edges, subdivided
from stackview.solids.solid import Face

CREASE = 28.0
"""Neighbouring triangles that turn by more than this meet in a sharp edge [°]."""
MOST_TRIANGLES = 70_000
"""Edges stay longer above this, so that a very large lamp costs picture quality and not the machine."""


EDGE_FACES = (Face.OUTER, Face.OPENING, Face.RECESS_WALL, Face.CHAMFER, Face.BORE)
"""Faces that a sheet's edge finish covers, where the sheet is acrylic."""


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

    area = np.linalg.norm(_crosses(vertices, triangles), axis=1)
    kept = area > 1e-9
    triangles, face, part = triangles[kept], face[kept], part[kept]
    patch = _patches(vertices, triangles)
    vertices, triangles, parent = subdivided(vertices, triangles, edge, MOST_TRIANGLES)
    return _corners(vertices, triangles, face[parent], part[parent], patch[parent])


def _crosses(vertices: NDArray[np.float64], triangles: NDArray[np.int64]) -> NDArray[np.float64]:
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    return np.cross(b - a, c - a)


def _patches(vertices: NDArray[np.float64], triangles: NDArray[np.int64]) -> NDArray[np.int64]:
    """Label of the smooth patch of each triangle: joined across edges that turn less than CREASE."""
    normals = _crosses(vertices, triangles)
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    _, side = edges(triangles)
    order = np.argsort(side.ravel(), kind="stable")
    sorted_side = side.ravel()[order]
    same = np.flatnonzero(sorted_side[1:] == sorted_side[:-1])
    first, second = order[same] // 3, order[same + 1] // 3
    smooth = (normals[first] * normals[second]).sum(axis=1) > np.cos(np.radians(CREASE))
    first, second = first[smooth], second[smooth]
    label = np.arange(len(triangles))
    while True:
        low = np.minimum(label[first], label[second])
        new = label.copy()
        np.minimum.at(new, label[first], low)
        np.minimum.at(new, label[second], low)
        new = new[new[new]]
        new = new[label]
        if np.array_equal(new, label):
            return label
        label = new


def _corners(
    vertices: NDArray[np.float64],
    triangles: NDArray[np.int64],
    face: NDArray[np.int64],
    part: NDArray[np.int64],
    patch: NDArray[np.int64],
) -> Facets:
    crosses = _crosses(vertices, triangles)
    lengths = np.linalg.norm(crosses, axis=1, keepdims=True)
    flat = crosses / np.maximum(lengths, 1e-12)
    patch = np.unique(patch, return_inverse=True)[1]
    keys = triangles * np.int64(patch.max(initial=0) + 1) + patch[:, None]
    _, first, corner = np.unique(keys.ravel(), return_index=True, return_inverse=True)
    corner = corner.reshape(-1, 3)
    normals = np.stack(
        [np.bincount(corner.ravel(), np.repeat(crosses[:, k], 3), len(first)) for k in range(3)], axis=1
    ).astype(np.float64)
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-12)
    return Facets(
        vertices=vertices.astype(np.float32),
        triangles=triangles,
        corner=corner,
        part=part,
        face=face.astype(np.int8),
        flat=flat.astype(np.float32),
        at=triangles.ravel()[first],
        normals=normals.astype(np.float32),
        owner=part[first // 3],
    )
