"""Meshes made ready for baking: edges short enough, normals split where the surface turns."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.solids.smooth import corners, crosses, patches
from stackview.stills.subdivide import subdivided

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
