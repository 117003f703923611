"""Smooth patches of a mesh: facets of one curve are one surface, sharp edges part it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

_CREASE = 28.0
"""Neighbouring triangles that turn by more than this meet in a sharp edge [°]."""


@dataclass(frozen=True, slots=True, eq=False)
class Corners:
    """Corners of a mesh: a vertex as seen from one smooth patch.

    At a sharp edge one vertex has two corners, each with the normal of its own side.
    corner : (m, 3) of corners for each triangle; at : (c,) vertex of each corner; normals : (c, 3)
    unit, weighted by area; flat : (m, 3) unit normals of the triangles; first : (c,) a place in
    ``triangles.ravel()`` that each corner stands at.
    """

    corner: NDArray[np.int64]
    at: NDArray[np.int64]
    normals: NDArray[np.float64]
    flat: NDArray[np.float64]
    first: NDArray[np.int64]


def crosses(vertices: NDArray[np.float64], triangles: NDArray[np.int64]) -> NDArray[np.float64]:
    """Normals of triangles (m, 3), as long as twice their area."""
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    return np.cross(b - a, c - a)


def edges(triangles: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Undirected edges (e, 2), and for each triangle the edges ab, bc and ca (m, 3)."""
    pairs = np.sort(np.stack([triangles, np.roll(triangles, -1, axis=1)], axis=2).reshape(-1, 2), axis=1)
    base = np.int64(triangles.max(initial=0) + 1)
    keys, side = np.unique(pairs[:, 0] * base + pairs[:, 1], return_inverse=True)
    return np.stack([keys // base, keys % base], axis=1), side.reshape(-1, 3)


def patches(vertices: NDArray[np.float64], triangles: NDArray[np.int64]) -> NDArray[np.int64]:
    """Label of the smooth patch of each triangle: joined across edges that turn less than _CREASE."""
    normals = crosses(vertices, triangles)
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    _, side = edges(triangles)
    order = np.argsort(side.ravel(), kind="stable")
    sorted_side = side.ravel()[order]
    same = np.flatnonzero(sorted_side[1:] == sorted_side[:-1])
    first, second = order[same] // 3, order[same + 1] // 3
    smooth = (normals[first] * normals[second]).sum(axis=1) > np.cos(np.radians(_CREASE))
    return joined_by_pairs(len(triangles), first[smooth], second[smooth])


def joined_by_pairs(count: int, first: NDArray[np.int64], second: NDArray[np.int64]) -> NDArray[np.int64]:
    """Labels (count,) of things, alike for all that pairs, ``first`` and ``second`` (p,), join: the lowest number of each.

    >>> joined_by_pairs(5, np.array([0, 3]), np.array([2, 4])).tolist()
    [0, 1, 0, 3, 3]
    """
    label = np.arange(count)
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


def corners(vertices: NDArray[np.float64], triangles: NDArray[np.int64], patch: NDArray[np.int64]) -> Corners:
    """Corners of a mesh whose triangles (m, 3) belong to smooth patches (m,)."""
    areas = crosses(vertices, triangles)
    flat = areas / np.maximum(np.linalg.norm(areas, axis=1, keepdims=True), 1e-12)
    patch = np.unique(patch, return_inverse=True)[1]
    keys = triangles * np.int64(patch.max(initial=0) + 1) + patch[:, None]
    _, first, corner = np.unique(keys.ravel(), return_index=True, return_inverse=True)
    corner = corner.reshape(-1, 3)
    normals = np.stack(
        [np.bincount(corner.ravel(), np.repeat(areas[:, k], 3), len(first)) for k in range(3)], axis=1
    ).astype(np.float64)
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-12)
    return Corners(corner, triangles.ravel()[first], normals, flat, first)
