"""What stands between light points and eyes, laid out for the crossing of silhouettes.

The scene is every placed solid in one set of arrays: triangles with their planes, and edges
with the two triangles that share them. What a line meets is counted in one packed whole
number, so that three counts travel together through the same sums:

=========  ============================================================
``OPAQUE``  opaque bodies that the line leaves
``VEIL``    opal bodies that it leaves, and sanded surfaces that it crosses
``CLEAR``   acrylic bodies that it leaves, of any finish
=========  ============================================================

A body is counted where the line leaves it (its faces turned away from the light point), so
that a light point inside a body is held by it too.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.one_line import one_line
from stackview.sight.pieces import Piece, piece_of
from stackview.solids.solid import SheetFace, sheet_faces
from stackview.stack.placed import Placed

CLEAR = 1
VEIL = 1 << 20
OPAQUE = 1 << 40


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """All solids as arrays; read-only.

    vertices : (v, 3) [mm]; triangles : (t, 3) into them
    normals : (t, 3) outward, not of unit length; offsets : (t,) so that normal·x = offset
    exit_weight, cross_weight : (t,) packed counts for leaving a body, and for crossing its surface
    box : (4, t) low x, low y, high x, high y of each triangle
    tail, head : (e,) vertices of each edge, as directed in triangle ``left``; left, right : (e,)
    solid_of_triangle : (t,) index into ``names``; faces : (t,) :class:`Face` of each triangle
    standing : (m,) the edges that do not lie within one level face; even : (m,) whether both
    their triangles count alike
    radius, bottom, top : (s,) of each solid, its greatest distance from the z axis and its heights [mm]
    names : of the solids
    """

    vertices: NDArray[np.float64]
    triangles: NDArray[np.int64]
    normals: NDArray[np.float64]
    offsets: NDArray[np.float64]
    exit_weight: NDArray[np.int64]
    cross_weight: NDArray[np.int64]
    box: NDArray[np.float64]
    tail: NDArray[np.int64]
    head: NDArray[np.int64]
    left: NDArray[np.int64]
    right: NDArray[np.int64]
    solid_of_triangle: NDArray[np.int64]
    faces: NDArray[np.int8]
    standing: NDArray[np.int64]
    even: NDArray[np.bool_]
    radius: NDArray[np.float64]
    bottom: NDArray[np.float64]
    top: NDArray[np.float64]
    names: tuple[str, ...]
    film: NDArray[np.float64]
    film_clear: NDArray[np.bool_]

    __repr__ = one_line

    def __post_init__(self) -> None:
        for name in self.__slots__:
            value = getattr(self, name)
            if isinstance(value, np.ndarray):
                value.setflags(write=False)

    def within_plan(
        self, triangles: NDArray[np.int64], low: NDArray[np.float64], high: NDArray[np.float64]
    ) -> NDArray[np.int64]:
        """Of some triangles, those that overlap, seen from above, the box from ``low`` to ``high`` (2 or 3,) [mm]."""
        low_x, low_y, high_x, high_y = self.box.take(triangles, axis=1)
        within = (low_x <= high[0]) & (high_x >= low[0]) & (low_y <= high[1]) & (high_y >= low[1])
        return np.asarray(triangles[within])


def scene_of(placed: tuple[Placed, ...]) -> Scene:
    """Lay the placed solids out for sightlines.

    Raises
    ------
    ValueError
        When a mesh is not watertight: a triangle edge that is not shared by exactly two
        triangles in opposite directions.
    """
    pieces = [piece_of(part.solid) for part in placed]
    lift = np.array([part.solid.lift for part in placed], dtype=np.float64)
    vertices_of = np.array([len(part.solid.vertices) for part in placed], dtype=np.int64)
    triangles_of = np.array([len(part.solid.triangles) for part in placed], dtype=np.int64)
    edges_of = [len(piece.tail) for piece in pieces]
    # Solids number their vertices and triangles from nought: each is moved on by those before it.
    vertex, triangle = np.cumsum(vertices_of) - vertices_of, np.cumsum(triangles_of) - triangles_of
    vertices = _joined([part.solid.vertices for part in placed], (0, 3), np.float64)
    triangles = _joined([part.solid.triangles for part in placed], (0, 3), np.int64)
    triangles += np.repeat(vertex, triangles_of)[:, None]
    faces = _joined([part.solid.faces for part in placed], (0,), np.int8)
    normals = _joined([piece.normals for piece in pieces], (0, 3), np.float64)
    solid_of_triangle = np.repeat(np.arange(len(placed)), triangles_of)
    exit_weight, cross_weight = _weights(placed, pieces, triangles_of)
    tail, head = (
        _joined([getattr(piece, end) for piece in pieces], (0,), np.int64) for end in ("tail", "head")
    )
    left, right = (
        _joined([getattr(piece, own) for piece in pieces], (0,), np.int64) for own in ("left", "right")
    )
    for numbers, start in ((tail, vertex), (head, vertex), (left, triangle), (right, triangle)):
        numbers += np.repeat(start, edges_of)
    flat = _joined([piece.flat for piece in pieces], (0,), np.bool_)
    # Both triangles of an edge are the same body's, so that only sanded faces can make them differ.
    even = cross_weight[left] == cross_weight[right] if cross_weight.any() else np.ones(len(flat), dtype=bool)
    standing = np.flatnonzero(~(even & flat))
    return Scene(
        vertices=vertices,
        triangles=triangles,
        normals=normals,
        offsets=np.einsum("ij,ij->i", normals, vertices[triangles[:, 0]]),
        exit_weight=exit_weight,
        cross_weight=cross_weight,
        box=np.concatenate([np.zeros((4, 0)), *(piece.box for piece in pieces)], axis=1),
        tail=tail,
        head=head,
        left=left,
        right=right,
        solid_of_triangle=solid_of_triangle,
        faces=faces,
        standing=standing,
        even=even[standing],
        radius=np.array([piece.radius for piece in pieces]),
        bottom=lift + [piece.bottom for piece in pieces],
        top=lift + [piece.top for piece in pieces],
        names=tuple(part.name for part in placed),
        film=np.array([part.film.index for part in placed], np.float64),
        film_clear=np.array([part.film.clear for part in placed], bool),
    )


def _joined(arrays: list[NDArray], empty: tuple[int, ...], dtype: type) -> NDArray:  # type: ignore[type-arg]
    return np.concatenate(arrays).astype(dtype) if arrays else np.zeros(empty, dtype=dtype)


def _weights(
    placed: tuple[Placed, ...], pieces: list[Piece], triangles_of: NDArray[np.int64]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Packed counts of each triangle: for leaving its body, and for crossing its surface."""
    by_body = {"opaque": OPAQUE, "opal": VEIL + CLEAR, "clear": CLEAR}
    leave = np.array([by_body[part.material.body] for part in placed], dtype=np.int64)
    crossed = [_sanded(part, piece) for part, piece in zip(placed, pieces, strict=True)]
    return np.repeat(leave, triangles_of), _joined(crossed, (0,), np.int64)


def _sanded(part: Placed, piece: Piece) -> NDArray[np.int64]:
    """What each of a part's triangles adds to the veil of a line that crosses it."""
    cross = np.zeros(len(part.solid.faces), dtype=np.int64)
    if part.material.body == "clear" and any(part.finish.sanded):
        sides = sheet_faces(part.solid.faces, piece.normals[:, 2])
        for side, sanded in zip(SheetFace, part.finish.sanded, strict=True):
            if sanded:
                cross[sides == side] = VEIL
    return cross
