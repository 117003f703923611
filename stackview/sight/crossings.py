"""Where silhouettes, seen from light points, cross the vertical half-planes at given bearings.

Seen from a point P, how many bodies a line meets changes only where the line passes an edge
whose two triangles count differently: for a closed body, an edge between a triangle turned
towards P and one turned away. Going up from the nadir along one bearing and adding those
signed changes gives the count at every elevation: exact, without sampling, for any
watertight mesh (the covering number of a closed curve, as in the non-zero winding rule).

Elevations are kept as tangents t = tan(elevation) = height / horizontal distance, which rise
with the elevation and need no trigonometry. An edge a→b lies with P in one plane with normal
m = a × b (a, b measured from P); the direction (sin β, −cos β, t) lies in it where
t = −(m_x sin β − m_y cos β) / m_z.

Several places are worked out together, as flat arrays with the number of the place beside
each edge and each line. For one place, vertices are sorted into the gaps between its lines
once, so that edges which share a vertex can never disagree about which of them a line crosses.
Where the bearings are even all round, that is arithmetic and no search.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.curves.ranges import ranges
from stackview.sight.edges import Edges
from stackview.sight.scene import Scene

TURN = 2.0 * np.pi

# A light point is taken this far in front of its own face, and off any plane, edge or axis
# that it may share with a part, so that "level with a rim" is decided one way for all of the
# rim's triangles. Both are far below what a ray at 1 m could tell (1e-10 rad).
IN_FRONT = 1e-7
ASIDE = 1e-9 * np.array([0.5773, -0.3312, 0.7071])

RADIAL = 1e-9
"""Edges spanning less than this bearing [rad] run along the half-plane; see :meth:`Silhouettes.mended`."""

_ENOUGH_BITS = 32
"""Half a turn in steps of 7e-10 rad."""


@dataclass(frozen=True, slots=True, eq=False)
class Silhouettes:
    """The edges at which the packed count changes, seen from each of several places.

    place, edge : (s,) number of the place, and of the edge in the scene
    gain : (s,) packed change of the count on passing the edge upwards
    tail, head : (s,) its ends, among all vertices from all places, one place after the other
    turn : (s,) bearing from tail to head, the short way [rad]; wraps : (k,) the edges over bearing 0
    offset : (3, p·v) vertices from the places [mm]; bearing : (p·v,) of them [rad, 0 to 2π)
    nadir : (p,) packed count straight down from each place
    """

    place: Whole
    edge: Whole
    gain: Whole
    tail: Whole
    head: Whole
    turn: Floats
    wraps: Whole
    offset: Floats
    bearing: Floats
    nadir: Whole

    def planes(self, chosen: Whole) -> tuple[Floats, Floats]:
        """Factors of sin β and cos β in the tangents of some edges; inf or nan where a plane is upright."""
        (ax, ay, az), (bx, by, bz) = self.ends(chosen)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            upright = 1.0 / (ax * by - ay * bx)
            return (az * by - ay * bz) * upright, (az * bx - ax * bz) * upright

    def ends(self, chosen: Whole) -> tuple[Floats, Floats]:
        """Tail and head of some edges from their places, (3, k) each [mm]."""
        return self.offset.take(self.tail[chosen], axis=1), self.offset.take(self.head[chosen], axis=1)

    def reach(self) -> tuple[Floats, Floats]:
        """Lowest and highest tangent that each edge can have anywhere along it, (s,) each.

        Along an edge the tangent is A·cos(β − φ), so that between two ends Δ apart it rises at
        most to the higher end over cos(Δ/2), and likewise falls.
        """
        own = own_tangent(self.offset)
        tail, head = own[self.tail], own[self.head]
        slack = (1.0 + 1e-9) / np.maximum(np.cos(self.turn / 2.0), 1e-12) - 1.0
        low, high = np.minimum(tail, head), np.maximum(tail, head)
        return low - np.abs(low) * slack, high + np.abs(high) * slack

    def mended(self, tangent: Floats, chosen: Whole, count: Whole) -> Floats:
        """Tangents (Σ count,) of some edges, ``count`` of each in a row, made sound for those along the half-plane.

        Such an edge has no single crossing: any place on it will do, so that a rounded crossing
        is kept within the edge's own ends.
        """
        along = np.flatnonzero(np.abs(self.turn[chosen]) < RADIAL)
        if len(along):
            tail, head = (own_tangent(end) for end in self.ends(chosen[along]))
            own = np.repeat(np.arange(len(along)), count[along])
            at = ranges((np.cumsum(count) - count)[along], count[along])
            low, high = np.minimum(tail, head)[own], np.maximum(tail, head)[own]
            kept = np.clip(tangent[at], low, high)
            tangent[at] = np.where(np.isnan(kept), (low + high) / 2.0, kept)
        return tangent


def silhouettes(scene: Scene, edges: Edges, places: Floats) -> Silhouettes:
    """The silhouettes of the scene as seen from ``places`` (p, 3) [mm], which ``edges`` must cover."""
    place, chosen, change = _changes(edges, places)
    vertices = edges.vertices.shape[1]
    offset = (edges.vertices[:, None] - places.T[:, :, None]).reshape(3, -1)
    bearing = bearing_of(offset)
    start = place * vertices
    tail, head = start + edges.tail.take(chosen), start + edges.head.take(chosen)
    turn = bearing.take(head) - bearing.take(tail)
    wraps = np.flatnonzero((turn > np.pi) | (turn <= -np.pi))
    turn[wraps] = wrapped(turn[wraps])
    return Silhouettes(
        place=place,
        edge=edges.number[chosen],
        gain=change * np.where(turn > 0, 1, -1),
        tail=tail,
        head=head,
        turn=turn,
        wraps=wraps,
        offset=offset,
        bearing=bearing,
        nadir=nadirs(scene, edges.beneath, places),
    )


def _changes(edges: Edges, places: Floats) -> tuple[Whole, Whole, Whole]:
    """Place and edge (s,) wherever the packed count changes, and by how much from its right to its left."""
    left, right = edges.left.front(places), edges.right.front(places)
    # Where both triangles count alike, it changes only if one is turned towards the place and one away.
    even = bool(edges.even.all())
    at = np.flatnonzero(left != right if even else (left != right) | ~edges.even)
    place, chosen = np.divmod(at, left.shape[1])
    change = right.ravel().take(at) * edges.right.step.take(chosen)
    change -= left.ravel().take(at) * edges.left.step.take(chosen)
    if even:
        return place, chosen, change
    change -= edges.uneven.take(chosen)
    some = np.flatnonzero(change)
    return place[some], chosen[some], change[some]


def bearings_of(offset: Floats) -> Floats:
    """Bearing of each horizontal direction (…, 2 or 3) [rad, 0 to 2π)."""
    return bearing_of((offset[..., 0], offset[..., 1]))


def bearing_of(offset: Floats | tuple[Floats, ...]) -> Floats:
    """The same for x and y (and z) in arrays of their own."""
    bearing = np.arctan2(offset[0], -offset[1])
    return np.asarray(bearing + TURN * (bearing < 0))


def wrapped(angle: Floats) -> Floats:
    """Angles brought into (−π, π]."""
    return np.asarray(angle - TURN * (angle > np.pi) + TURN * (angle <= -np.pi))


def beneath(scene: Scene, candidates: Whole, places: Floats) -> tuple[Whole, Whole, NDArray[np.bool_]]:
    """Pairs of a place (p, 3) and a triangle straight below it, and whether that is turned towards it: (k,) each.

    By the winding of a triangle's bearings about the vertical, which agrees to the last bit
    with how its edges are sorted among the lines.
    """
    x, y = places[:, 0:1], places[:, 1:2]
    low_x, low_y, high_x, high_y = scene.box.take(candidates, axis=1)
    at, near = np.nonzero((low_x <= x) & (x <= high_x) & (low_y <= y) & (y <= high_y))
    near = candidates[near]
    bearing = bearings_of(scene.vertices[scene.triangles[near]] - places[at, None])
    over = np.flatnonzero(np.abs(wrapped(bearing[:, [1, 2, 0]] - bearing).sum(axis=1)) > np.pi)
    at, over = at[over], near[over]
    turned_to = (scene.normals[over] * places[at]).sum(axis=1) > scene.offsets[over]
    below = turned_to == (scene.normals[over, 2] > 0)
    return at[below], over[below], turned_to[below]


def nadirs(scene: Scene, candidates: Whole, places: Floats) -> Whole:
    """Packed count straight down from each place (p, 3): (p,)."""
    at, below, turned_to = beneath(scene, candidates, places)
    count = np.where(turned_to, 0, scene.exit_weight[below]) + scene.cross_weight[below]
    # Sums of packed counts stay below 2^53, where floating point is exact.
    return np.bincount(at, weights=count, minlength=len(places)).astype(np.int64)


@dataclass(frozen=True, slots=True, eq=False)
class Spans:
    """Which lines silhouette edges cross: ``count`` of them from line ``start`` on, at least one.

    ``which`` is the silhouette. One that crosses the last line of its place and the first is here twice.
    """

    which: Whole
    start: Whole
    count: Whole

    def chosen(self, mask: NDArray[np.bool_]) -> "Spans":
        """Some of them."""
        return Spans(self.which[mask], self.start[mask], self.count[mask])

    def lines(self) -> Whole:
        """The line of each crossing, span after span."""
        return ranges(self.start, self.count)


def spans(seen: Silhouettes, after: Whole, first: Whole) -> Spans:
    """The lines that each silhouette edge crosses.

    A bearing exactly at a vertex belongs to the edge that begins there counter-clockwise.

    Parameters
    ----------
    after : (p·v,) for each vertex, the first line of its place that is not before it
    first : (p + 1,) where each place's lines begin
    """
    tail, head = after.take(seen.tail), after.take(seen.head)
    start, stop = np.minimum(tail, head), np.maximum(tail, head)
    plain = stop - start
    plain[seen.wraps] = 0
    own = np.flatnonzero(plain)
    # Those over bearing 0 cross the first lines of their place, and the last ones.
    begin, end = first[seen.place[seen.wraps]], first[seen.place[seen.wraps] + 1]
    early, late = start[seen.wraps] - begin, end - stop[seen.wraps]
    some, others = np.flatnonzero(early), np.flatnonzero(late)
    return Spans(
        np.concatenate([own, seen.wraps[some], seen.wraps[others]]),
        np.concatenate([start[own], begin[some], stop[seen.wraps[others]]]),
        np.concatenate([plain[own], early[some], late[others]]),
    )


def tangents(seen: Silhouettes, over: Spans, at: Whole, sine: Floats, cosine: Floats) -> Floats:
    """tan(elevation) of each crossing with the lines ``at`` (k,), of which sine and cosine are given line by line."""
    along_sine, along_cosine = seen.planes(over.which)
    # A plane that is upright to rounding gives inf or nan here, mended just below.
    with np.errstate(invalid="ignore", over="ignore"):
        tangent = np.repeat(along_sine, over.count)
        tangent *= sine.take(at)
        other = np.repeat(along_cosine, over.count)
        other *= cosine.take(at)
        tangent += other
    return seen.mended(tangent, over.which, over.count)


def own_tangent(offset: Floats) -> Floats:
    """Tangent of places (3, k) measured from a light point."""
    across = np.sqrt(offset[0] * offset[0] + offset[1] * offset[1])
    return np.asarray(offset[2] / np.maximum(across, 1e-300))


def in_order(line: Whole, elevation: Floats, lines: int) -> Whole:
    """Places (n,) of crossings in order of their line, then of elevation [rad].

    The first ``lines`` are where each line begins, straight down, and come before all others of theirs.
    Line, elevation and place are packed into one whole number each: sorting these alone takes half the
    time of sorting places by keys. Where so many leave no room for elevations to within 1e-9 rad, which
    is rounding, places are sorted.
    """
    for_place = len(line).bit_length()
    for_elevation = 63 - lines.bit_length() - for_place
    if for_elevation < _ENOUGH_BITS:
        # Elevations are less than a quarter either way.
        apart = elevation * 0.125
        apart[:lines] = -0.25
        return np.argsort(apart + line)
    scaled = elevation * (((1 << for_elevation) - 2) / np.pi)
    key = line << for_elevation
    key += scaled.astype(np.int64)
    key += 1 << (for_elevation - 1)
    key <<= for_place
    key += np.arange(len(key))
    key.sort()
    key &= (1 << for_place) - 1
    return key
