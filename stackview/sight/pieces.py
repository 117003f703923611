"""What a scene needs to know of one solid, whatever its height: its edges, paired, and how its faces look.

It is kept for the solid as it was made, so that variants of a lamp in one process work it out once.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.by_value import by_value, mark
from stackview.solids.solid import Solid

_KEPT_BYTES = 64_000_000
"""Pieces kept for further variants of a lamp [bytes]."""


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One solid's triangles and edges, by its own numbers. Arrays are read-only.

    normals : (t, 3) outward, not of unit length; box : (4, t) low x, low y, high x, high y
    tail, head : (e,) vertices of each edge, as directed in triangle ``left``; left, right : (e,)
    flat : (e,) whether it lies within one level face
    radius : greatest distance from the z axis [mm]; bottom, top : lowest and highest z [mm]
    """

    normals: NDArray[np.float64]
    box: NDArray[np.float64]
    tail: NDArray[np.int64]
    head: NDArray[np.int64]
    left: NDArray[np.int64]
    right: NDArray[np.int64]
    flat: NDArray[np.bool_]
    radius: float
    bottom: float
    top: float

    def __post_init__(self) -> None:
        for array in self._arrays():
            array.setflags(write=False)

    def _arrays(self) -> tuple[NDArray[np.generic], ...]:
        return self.normals, self.box, self.tail, self.head, self.left, self.right, self.flat

    @property
    def bytes(self) -> int:
        """Memory that its arrays take."""
        return sum(array.nbytes for array in self._arrays())


def piece_of(solid: Solid) -> Piece:
    """The piece of a solid as it was made: add :attr:`Solid.lift` to its heights.

    Raises ValueError when the mesh is not watertight: a triangle edge that is not shared by
    exactly two triangles in opposite directions.
    """
    return _piece_of(solid.ground)


@by_value(_KEPT_BYTES, size=lambda piece: piece.bytes, key=mark)
def _piece_of(solid: Solid) -> Piece:
    vertices, triangles = solid.vertices, solid.triangles
    corners = vertices[triangles]
    a, b, c = (corners[:, corner] for corner in range(3))
    normals = np.cross(b - a, c - a)
    tail, head, left, right = _edges(triangles)
    # Only faces at exactly one height are meant: their triangles are in one plane to the last
    # bit, so that they always face the same way.
    level = (a[:, 2] == b[:, 2]) & (a[:, 2] == c[:, 2])
    up = normals[:, 2] > 0
    return Piece(
        normals=normals,
        box=np.concatenate([corners[..., :2].min(axis=1).T, corners[..., :2].max(axis=1).T]),
        tail=tail,
        head=head,
        left=left,
        right=right,
        flat=level[left] & level[right] & (up[left] == up[right]),
        radius=float(np.hypot(vertices[:, 0], vertices[:, 1]).max(initial=0.0)),
        bottom=float(vertices[:, 2].min(initial=np.inf)),
        top=float(vertices[:, 2].max(initial=-np.inf)),
    )


def _edges(
    triangles: NDArray[np.int64],
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]:
    """Each edge once, directed as in its ``left`` triangle, with the triangle on its other side."""
    tail = triangles.T.ravel()
    head = triangles[:, [1, 2, 0]].T.ravel()
    owner = np.tile(np.arange(len(triangles)), 3)
    size = int(triangles.max(initial=0)) + 1
    forward = tail < head
    # The forward half of each edge first.
    key = (np.minimum(tail, head) * size + np.maximum(tail, head)) * 2 + ~forward
    order = np.argsort(key)
    first, second = order[0::2], order[1::2]
    paired = len(order) % 2 == 0 and bool(np.all(key[first] + 1 == key[second]) and np.all(forward[first]))
    if not paired:
        raise ValueError("a mesh is not watertight: some edge is not shared by two opposite triangles")
    return tail[first], head[first], owner[first], owner[second]
