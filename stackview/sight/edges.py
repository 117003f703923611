"""The edges that can bound a view from somewhere in one region: all others are never looked at.

From a scene's edges those for a region are chosen, from these those for a smaller one, and so
on, so that the many edges of a lamp are looked through once for many light points.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.sight.scene import Scene


@dataclass(frozen=True, slots=True, eq=False)
class Side:
    """The triangles on one side of some edges: their planes and what they weigh, edge for edge.

    normal : (3, e) outward, not of unit length; offset : (e,) so that normal·x = offset;
    step : (e,) what being turned towards a place adds to the triangle's packed count.
    """

    normal: Floats
    offset: Floats
    step: Whole

    def chosen(self, index: Whole) -> "Side":
        """Some of them."""
        return Side(self.normal.take(index, axis=1), self.offset[index], self.step[index])

    def distance(self, place: Floats) -> Floats:
        """Signed distance of a place (3,) from each plane, times the length of its normal."""
        # Written out: a matrix product would wake a pool of threads for next to no work.
        found = self.normal[0] * place[0]
        found += self.normal[1] * place[1]
        found += self.normal[2] * place[2]
        found -= self.offset
        return np.asarray(found)

    def reach(self, half: Floats) -> Floats:
        """How much that can be more or less within a box of these half sides (3,) about the place."""
        found = np.abs(self.normal[0]) * half[0]
        found += np.abs(self.normal[1]) * half[1]
        found += np.abs(self.normal[2]) * half[2]
        return np.asarray(found)

    def front(self, places: Floats) -> NDArray[np.bool_]:
        """Whether each triangle is turned towards each place (p, 3): (p, e)."""
        distance = places[:, :1] * self.normal[0]
        distance += places[:, 1:2] * self.normal[1]
        distance += places[:, 2:] * self.normal[2]
        return np.asarray(distance > self.offset)


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """The edges that can bound a view from somewhere in one region, with what is next to them.

    vertices : (3, v) [mm] of these edges only; tail, head : (e,) into them, as directed in
    the triangles on the ``left``; number : (e,) of each edge in the whole scene;
    even : (e,) whether both triangles count alike; uneven : (e,) by how much the left one counts more
    than the right one where both are turned away;
    beneath : (k,) the scene's triangles that may lie straight below a place in the region.
    """

    vertices: Floats
    tail: Whole
    head: Whole
    left: Side
    right: Side
    uneven: Whole
    even: NDArray[np.bool_]
    number: Whole
    beneath: Whole

    def narrowed(
        self,
        scene: Scene,
        places: Floats,
        directions: Floats | None = None,
        lowest: float = -np.inf,
        highest: float = np.inf,
    ) -> "Edges":
        """Of these, the edges that can bound the view from any place in the box around ``places``.

        As :func:`edges_for`, which chooses from all of the scene's edges.
        """
        low, high, middle, half = _box(places)
        left, right = (_turned(side.distance(middle), side.reach(half)) for side in (self.left, self.right))
        kept = _changing(left, right, self.even)
        if directions is not None and not np.any(directions[:, 2]):
            ahead = _ahead(self.vertices, places, directions)
            kept &= ahead[self.tail] | ahead[self.head]
        number, beneath = np.flatnonzero(kept), scene.within_plan(self.beneath, low, high)
        if highest < np.inf or lowest > -np.inf:
            solids = _between(scene, low, high, lowest, highest)
            beneath = beneath[solids[scene.solid_of_triangle[beneath]]]
            number = number[solids[scene.solid_of_triangle[scene.left[self.number[number]]]]]
            number = number[self._lowest_tangent(number, middle, half) <= highest]
        return self._chosen(number, beneath)

    def _lowest_tangent(self, index: Whole, middle: Floats, half: Floats) -> Floats:
        """A bound below the tangent of edges seen from anywhere in a box: rise over the run that makes it least."""
        tail, head = (
            self.vertices.take(end[index], axis=1) - middle[:, None] for end in (self.tail, self.head)
        )
        spread = float(np.hypot(half[0], half[1]))
        rise = np.minimum(tail[2], head[2]) - half[2]
        tail_away, head_away = tail[0] * tail[0] + tail[1] * tail[1], head[0] * head[0] + head[1] * head[1]
        farthest = np.sqrt(np.maximum(tail_away, head_away)) + spread
        along_x, along_y = head[0] - tail[0], head[1] - tail[1]
        length = np.maximum(along_x * along_x + along_y * along_y, 1e-300)
        share = np.clip(-(tail[0] * along_x + tail[1] * along_y) / length, 0.0, 1.0)
        foot_x, foot_y = tail[0] + share * along_x, tail[1] + share * along_y
        nearest = np.maximum(np.sqrt(foot_x * foot_x + foot_y * foot_y) - spread, 1e-12)
        return np.asarray(rise / np.where(rise > 0, farthest, nearest))

    def _chosen(self, index: Whole, beneath: Whole) -> "Edges":
        """Some of the edges, with only the vertices that they use."""
        vertices, tail, head = _numbered_anew(self.vertices.shape[1], self.tail[index], self.head[index])
        return Edges(
            self.vertices.take(vertices, axis=1),
            tail=tail,
            head=head,
            left=self.left.chosen(index),
            right=self.right.chosen(index),
            uneven=self.uneven[index],
            even=self.even[index],
            number=self.number[index],
            beneath=beneath,
        )


def edges_for(
    scene: Scene,
    places: Floats,
    directions: Floats | None = None,
    lowest: float = -np.inf,
    highest: float = np.inf,
) -> Edges:
    """The edges that can bound the view from any place in the box around ``places`` (n, 3).

    An edge cannot where both its triangles are turned the same way for the whole box and
    count alike: the joints of facets on a curve's far side, or within one flat face.

    ``directions`` (d, 3) are those in which all the faces at these places look, if known:
    where they look out level, upright half-planes in front of them never meet an edge that
    lies wholly behind them. ``lowest`` and ``highest`` are the least and the greatest tangent of
    any line asked about, if known: bodies that all these lines pass wholly above or below from
    everywhere in the box are left out, and so are edges that stay above them, which are never
    passed on the way up.
    """
    low, high, middle, half = _box(places)
    # Written out: a matrix product would wake a pool of threads for next to no work.
    normal = scene.normals.T
    distance = normal[0] * middle[0] + normal[1] * middle[1] + normal[2] * middle[2] - scene.offsets
    reach = np.abs(normal[0]) * half[0] + np.abs(normal[1]) * half[1] + np.abs(normal[2]) * half[2]
    turned = _turned(distance, reach)
    kept = _changing(turned[scene.left[scene.standing]], turned[scene.right[scene.standing]], scene.even)
    # Upright triangles are straight below no place.
    beneath = scene.within_plan(np.flatnonzero(scene.normals[:, 2]), low, high)
    found = _of_scene(scene, kept, beneath)
    if directions is None and highest == np.inf and lowest == -np.inf:
        return found
    return found.narrowed(scene, places, directions, lowest, highest)


def _of_scene(scene: Scene, chosen: NDArray[np.bool_], beneath: Whole) -> Edges:
    """The chosen ones of a scene's standing edges."""
    number = scene.standing[chosen]
    # Seen from its front a triangle runs counter-clockwise, from its back clockwise.
    away = -scene.exit_weight - scene.cross_weight
    step = scene.cross_weight - away
    left, right = scene.left[number], scene.right[number]
    vertices, tail, head = _numbered_anew(len(scene.vertices), scene.tail[number], scene.head[number])
    return Edges(
        np.ascontiguousarray(scene.vertices[vertices].T),
        tail=tail,
        head=head,
        left=_side_of(scene, left, step),
        right=_side_of(scene, right, step),
        uneven=away[left] - away[right],
        even=scene.even[chosen],
        number=number,
        beneath=beneath,
    )


def _side_of(scene: Scene, triangle: Whole, step: Whole) -> Side:
    normal = np.ascontiguousarray(scene.normals[triangle].T)
    return Side(normal, scene.offsets[triangle], step[triangle])


def _numbered_anew(vertices: int, tail: Whole, head: Whole) -> tuple[Whole, Whole, Whole]:
    """The vertices that some edges use, and the edges' ends by their numbers among these."""
    used = np.zeros(vertices, dtype=bool)
    used[tail] = True
    used[head] = True
    place = np.cumsum(used) - 1
    return np.flatnonzero(used), place[tail], place[head]


def _box(places: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Lowest and highest corner of a box about places, its middle and its half sides."""
    low, high = places.min(axis=0) - 1e-3, places.max(axis=0) + 1e-3
    return low, high, (low + high) / 2.0, (high - low) / 2.0


def _turned(distance: Floats, reach: Floats) -> NDArray[np.int8]:
    """1 where a triangle is turned towards all of a box, −1 where it is turned away from it, else 0."""
    return np.asarray((distance > reach).view(np.int8) - (distance < -reach).view(np.int8))


def _changing(left: NDArray[np.int8], right: NDArray[np.int8], even: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Whether the count may change at edges between triangles that are turned so."""
    return np.asarray((left != right) | (left == 0) | ~even)


def _ahead(vertices: Floats, places: Floats, directions: Floats) -> NDArray[np.bool_]:
    """Whether each vertex (3, v) is in front of some place, by its own level direction or another's."""
    x, y = vertices[0], vertices[1]
    ahead = np.zeros(len(x), dtype=bool)
    for way, nearest in zip(directions, (places @ directions.T).min(axis=0), strict=True):
        ahead |= x * way[0] + y * way[1] > nearest - 1e-3
    return ahead


def _between(scene: Scene, low: Floats, high: Floats, lowest: float, highest: float) -> NDArray[np.bool_]:
    """Which solids lines between two tangents may meet from the box: not those wholly below or above them.

    The count of such a body comes to nothing on any of the lines, so that it may be left out whole.
    """
    farthest = scene.radius + float(np.hypot(*np.maximum(np.abs(low[:2]), np.abs(high[:2])))) + 1e-3
    above, below = scene.bottom - high[2], scene.top - low[2]
    missed = ((above > 0) & (above > highest * farthest)) | ((below < 0) & (below < lowest * farthest))
    return np.asarray(~missed)
