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
from stackview.solids.solid import SheetFace, sheet_faces
from stackview.stack.placed import Placed

CLEAR = 1
VEIL = 1 << 20
OPAQUE = 1 << 40


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """The triangles on one side of some edges: their planes and what they weigh, edge for edge.

    normal : (3, e) outward, not of unit length; offset : (e,) so that normal·x = offset;
    towards, away : (e,) packed counts, signed by the way the triangle runs as seen from a place
    that it is turned towards, or away from.
    """

    normal: NDArray[np.float64]
    offset: NDArray[np.float64]
    towards: NDArray[np.int64]
    away: NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """The edges that can bound a view from somewhere in one region, with what is next to them.

    vertices : (v, 3) [mm] of these edges only; tail, head : (e,) into them, as directed in
    the triangles on the ``left``; number : (e,) of each edge in the whole scene;
    beneath : (k,) the scene's triangles that may lie straight below a place in the region.
    """

    vertices: NDArray[np.float64]
    tail: NDArray[np.int64]
    head: NDArray[np.int64]
    left: Side
    right: Side
    number: NDArray[np.int64]
    beneath: NDArray[np.int64]


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
    their triangles count alike; names : of the solids
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
    names: tuple[str, ...]
    film: NDArray[np.float64]
    film_clear: NDArray[np.bool_]

    __repr__ = one_line

    def __post_init__(self) -> None:
        for name in self.__slots__:
            value = getattr(self, name)
            if isinstance(value, np.ndarray):
                value.setflags(write=False)


def scene_of(placed: tuple[Placed, ...]) -> Scene:
    """Lay the placed solids out for sightlines.

    Raises
    ------
    ValueError
        When a mesh is not watertight: a triangle edge that is not shared by exactly two
        triangles in opposite directions.
    """
    starts = np.cumsum([0] + [len(part.solid.vertices) for part in placed])
    vertices = _joined([part.solid.vertices for part in placed], (0, 3), np.float64)
    triangles = _joined(
        [part.solid.triangles + start for part, start in zip(placed, starts, strict=False)], (0, 3), np.int64
    )
    faces = _joined([part.solid.faces for part in placed], (0,), np.int8)
    counts = [len(part.solid.triangles) for part in placed]
    solid_of_triangle = np.repeat(np.arange(len(placed)), counts)
    a, b, c = (vertices[triangles[:, corner]] for corner in range(3))
    normals = np.cross(b - a, c - a)
    exit_weight, cross_weight = _weights(placed, solid_of_triangle, sheet_faces(faces, normals[:, 2]))
    tail, head, left, right = _edges(triangles)
    even = (exit_weight[left] == exit_weight[right]) & (cross_weight[left] == cross_weight[right])
    standing = np.flatnonzero(~(even & _flat(vertices, triangles, left, right)))
    corners = np.stack([a, b, c])[..., :2]
    return Scene(
        vertices=vertices,
        triangles=triangles,
        normals=normals,
        offsets=np.einsum("ij,ij->i", normals, a),
        exit_weight=exit_weight,
        cross_weight=cross_weight,
        box=np.concatenate([corners.min(axis=0).T, corners.max(axis=0).T]),
        tail=tail,
        head=head,
        left=left,
        right=right,
        solid_of_triangle=solid_of_triangle,
        faces=faces,
        standing=standing,
        even=even[standing],
        names=tuple(part.name for part in placed),
        film=np.array([part.film.index for part in placed], np.float64),
        film_clear=np.array([part.film.clear for part in placed], bool),
    )


def edges_for(
    scene: Scene,
    places: NDArray[np.float64],
    directions: NDArray[np.float64] | None = None,
    highest: float = np.inf,
) -> Edges:
    """The edges that can bound the view from any place in the box around ``places`` (n, 3).

    An edge cannot where both its triangles are turned the same way for the whole box and
    count alike: the joints of facets on a curve's far side, or within one flat face.

    ``directions`` (d, 3) are those in which all the faces at these places look, if known:
    where they look out level, upright half-planes in front of them never meet an edge that
    lies wholly behind them. ``highest`` is the greatest tangent of any line asked about, if
    known: edges that stay above it from everywhere in the box are never passed on the way up.
    """
    low, high = places.min(axis=0) - 1e-3, places.max(axis=0) + 1e-3
    middle, half = (low + high) / 2.0, (high - low) / 2.0
    distance = scene.normals @ middle - scene.offsets
    reach = np.abs(scene.normals) @ half
    side = (distance > reach).astype(np.int8) - (distance < -reach)
    number = scene.standing
    left, right = side[scene.left[number]], side[scene.right[number]]
    kept = (left != right) | (left == 0) | ~scene.even
    if directions is not None and not np.any(directions[:, 2]):
        nearest = (places @ directions.T).min(axis=0)
        ahead = (np.einsum("vx,dx->vd", scene.vertices, directions) > nearest - 1e-3).any(axis=1)
        kept &= ahead[scene.tail[number]] | ahead[scene.head[number]]
    number = number[kept]
    if highest < np.inf:
        number = number[_lowest_tangent(scene, number, middle, half) <= highest]
    return _chosen(scene, number, within_plan(scene, low, high))


def within_plan(scene: Scene, low: NDArray[np.float64], high: NDArray[np.float64]) -> NDArray[np.int64]:
    """The triangles that overlap, seen from above, the box from ``low`` to ``high`` (2 or 3,) [mm]."""
    low_x, low_y, high_x, high_y = scene.box
    return np.flatnonzero((low_x <= high[0]) & (high_x >= low[0]) & (low_y <= high[1]) & (high_y >= low[1]))


def _lowest_tangent(
    scene: Scene, number: NDArray[np.int64], middle: NDArray[np.float64], half: NDArray[np.float64]
) -> NDArray[np.float64]:
    """A bound below the tangent of edges seen from anywhere in a box: rise over the run that makes it least."""
    tail, head = scene.vertices[scene.tail[number]] - middle, scene.vertices[scene.head[number]] - middle
    spread = float(np.hypot(half[0], half[1]))
    rise = np.minimum(tail[:, 2], head[:, 2]) - half[2]
    farthest = np.maximum(np.hypot(tail[:, 0], tail[:, 1]), np.hypot(head[:, 0], head[:, 1])) + spread
    along = head[:, :2] - tail[:, :2]
    length = np.maximum(np.einsum("ex,ex->e", along, along), 1e-300)
    share = np.clip(-np.einsum("ex,ex->e", tail[:, :2], along) / length, 0.0, 1.0)
    foot = tail[:, :2] + share[:, None] * along
    nearest = np.maximum(np.hypot(foot[:, 0], foot[:, 1]) - spread, 1e-12)
    return np.asarray(rise / np.where(rise > 0, farthest, nearest))


def _chosen(scene: Scene, number: NDArray[np.int64], beneath: NDArray[np.int64]) -> Edges:
    """Some of the scene's edges, with only the vertices that they use."""
    tail, head = scene.tail[number], scene.head[number]
    used = np.zeros(len(scene.vertices), dtype=bool)
    used[tail] = used[head] = True
    place = np.cumsum(used) - 1
    return Edges(
        vertices=scene.vertices[used],
        tail=place[tail],
        head=place[head],
        left=_side(scene, scene.left[number]),
        right=_side(scene, scene.right[number]),
        number=number,
        beneath=beneath,
    )


def _side(scene: Scene, triangle: NDArray[np.int64]) -> Side:
    # Seen from its front a triangle runs counter-clockwise, from its back clockwise.
    cross = scene.cross_weight[triangle]
    return Side(
        normal=np.ascontiguousarray(scene.normals[triangle].T),
        offset=scene.offsets[triangle],
        towards=cross,
        away=-scene.exit_weight[triangle] - cross,
    )


def _flat(
    vertices: NDArray[np.float64],
    triangles: NDArray[np.int64],
    left: NDArray[np.int64],
    right: NDArray[np.int64],
) -> NDArray[np.bool_]:
    """Edges within one level face: both triangles' corners at exactly one height, turned alike.

    Only faces at exactly one height are meant: their triangles are in one plane to the last
    bit, so that they always face the same way.
    """
    height = vertices[triangles, 2]
    level = (height[:, 0] == height[:, 1]) & (height[:, 0] == height[:, 2])
    edge_one, edge_two = (vertices[triangles[:, k]] - vertices[triangles[:, 0]] for k in (1, 2))
    up = edge_one[:, 0] * edge_two[:, 1] > edge_one[:, 1] * edge_two[:, 0]
    return np.asarray(level[left] & level[right] & (up[left] == up[right]))


def _joined(arrays: list[NDArray], empty: tuple[int, ...], dtype: type) -> NDArray:  # type: ignore[type-arg]
    return np.concatenate(arrays).astype(dtype) if arrays else np.zeros(empty, dtype=dtype)


def _weights(
    placed: tuple[Placed, ...], solid_of_triangle: NDArray[np.int64], sides: NDArray[np.int8]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Packed counts of each triangle: for leaving its body, and for crossing its surface."""
    by_body = {"opaque": OPAQUE, "opal": VEIL + CLEAR, "clear": CLEAR}
    leave = np.array([by_body[part.material.body] for part in placed], dtype=np.int64)
    exit_weight = leave[solid_of_triangle] if len(placed) else np.zeros(0, np.int64)
    cross_weight = np.zeros(len(sides), dtype=np.int64)
    for index, part in enumerate(placed):
        if part.material.body != "clear":
            continue
        own = solid_of_triangle == index
        for side, sanded in zip(SheetFace, part.finish.sanded, strict=True):
            if sanded:
                cross_weight[own & (sides == side)] = VEIL
    return exit_weight, cross_weight


def _edges(
    triangles: NDArray[np.int64],
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]:
    """Each edge once, directed as in its ``left`` triangle, with the triangle on its other side."""
    tail = triangles.T.ravel()
    head = triangles[:, [1, 2, 0]].T.ravel()
    owner = np.tile(np.arange(len(triangles)), 3)
    size = int(triangles.max()) + 1 if len(triangles) else 1
    key = np.minimum(tail, head) * size + np.maximum(tail, head)
    forward = tail < head
    order = np.lexsort((~forward, key))
    first, second = order[0::2], order[1::2]
    paired = len(order) % 2 == 0 and bool(
        np.all(key[first] == key[second]) and np.all(forward[first]) and not np.any(forward[second])
    )
    if not paired:
        raise ValueError("a mesh is not watertight: some edge is not shared by two opposite triangles")
    return tail[first], head[first], owner[first], owner[second]
