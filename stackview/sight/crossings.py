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
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.sight.scene import Edges, Scene, Side

TURN = 2.0 * np.pi

# A light point is taken this far in front of its own face, and off any plane, edge or axis
# that it may share with a part, so that "level with a rim" is decided one way for all of the
# rim's triangles. Both are far below what a ray at 1 m could tell (1e-10 rad).
IN_FRONT = 1e-7
ASIDE = 1e-9 * np.array([0.5773, -0.3312, 0.7071])

RADIAL = 1e-9
"""Edges spanning less than this bearing [rad] run along the half-plane; see :func:`_tangents`."""
_APART = 8.0
"""More than a full turn [rad]: keeps the bearings of different places apart in one sorted array."""


@dataclass(frozen=True, slots=True, eq=False)
class Silhouettes:
    """The edges at which the packed count changes, seen from each of several places.

    place, edge : (s,) number of the place, and of the edge in the scene
    gain : (s,) packed change of the count on passing the edge upwards, where it runs counter-clockwise
    tail_at, head_at : (s,) its ends, as vertices of the edges looked through; bearing : (v, p) of
    those vertices from each place [rad, 0 to 2π); turn : (s,) from tail to head, the short way
    plane : (2, s) factors of sin β and cos β in its tangent
    tail, head : (3, s) its ends from the place [mm]
    nadir : (p,) packed count straight down from each place
    """

    place: NDArray[np.int64]
    edge: NDArray[np.int64]
    gain: NDArray[np.int64]
    tail_at: NDArray[np.int64]
    head_at: NDArray[np.int64]
    bearing: NDArray[np.float64]
    turn: NDArray[np.float64]
    plane: NDArray[np.float64]
    tail: NDArray[np.float64]
    head: NDArray[np.float64]
    nadir: NDArray[np.int64]

    def reach(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Lowest and highest tangent that each edge can have anywhere along it, (s,) each.

        Along an edge the tangent is A·cos(β − φ), so that between two ends Δ apart it rises at
        most to the higher end over cos(Δ/2), and likewise falls.
        """
        tail, head = own_tangent(self.tail), own_tangent(self.head)
        slack = (1.0 + 1e-9) / np.maximum(np.cos(self.turn / 2.0), 1e-12) - 1.0
        low, high = np.minimum(tail, head), np.maximum(tail, head)
        return np.asarray(low - np.abs(low) * slack), np.asarray(high + np.abs(high) * slack)


def silhouettes(scene: Scene, edges: Edges, places: NDArray[np.float64]) -> Silhouettes:
    """The silhouettes of the scene as seen from ``places`` (p, 3) [mm], which ``edges`` must cover."""
    change = _weight(edges.left, places) - _weight(edges.right, places)
    chosen, place = np.nonzero(change)
    bearing = bearings_of(edges.vertices[:, None, :2] - places[:, :2])
    tail_at, head_at = edges.tail[chosen], edges.head[chosen]
    from_place = places[place]
    tail = np.ascontiguousarray((edges.vertices[tail_at] - from_place).T)
    head = np.ascontiguousarray((edges.vertices[head_at] - from_place).T)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        upright = 1.0 / (tail[0] * head[1] - tail[1] * head[0])
        along_sine = (tail[2] * head[1] - tail[1] * head[2]) * upright
        along_cosine = (tail[2] * head[0] - tail[0] * head[2]) * upright
    return Silhouettes(
        place=place,
        edge=edges.number[chosen],
        gain=-change[chosen, place],
        tail_at=tail_at,
        head_at=head_at,
        bearing=bearing,
        turn=wrapped(bearing[head_at, place] - bearing[tail_at, place]),
        plane=np.stack([along_sine, along_cosine]),
        tail=tail,
        head=head,
        nadir=np.array([_nadir(scene, edges.beneath, place) for place in places], dtype=np.int64),
    )


def _weight(side: Side, places: NDArray[np.float64]) -> NDArray[np.int64]:
    """Signed packed count of the triangles beside each edge, as seen from each place: (e, p)."""
    # Written out: a matrix product would wake a pool of threads for next to no work.
    distance = side.normal[0][:, None] * places[:, 0]
    distance += side.normal[1][:, None] * places[:, 1]
    distance += side.normal[2][:, None] * places[:, 2]
    return np.where(distance > side.offset[:, None], side.towards[:, None], side.away[:, None])


def bearings_of(offset: NDArray[np.float64]) -> NDArray[np.float64]:
    """Bearing of each horizontal direction (…, 2 or 3) [rad, 0 to 2π)."""
    bearing = np.arctan2(offset[..., 0], -offset[..., 1])
    return np.asarray(np.where(bearing < 0, bearing + TURN, bearing))


def wrapped(angle: NDArray[np.float64]) -> NDArray[np.float64]:
    """Angles brought into (−π, π]."""
    return np.asarray(angle - TURN * (angle > np.pi) + TURN * (angle <= -np.pi))


def beneath(
    scene: Scene, candidates: NDArray[np.int64], place: NDArray[np.float64]
) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    """The triangles straight below a place (k,), and whether each is turned towards it.

    By the winding of a triangle's bearings about the vertical, which agrees to the last bit
    with how its edges are sorted among the lines.
    """
    x, y = place[0], place[1]
    low_x, low_y, high_x, high_y = scene.box[:, candidates]
    near = candidates[(low_x <= x) & (x <= high_x) & (low_y <= y) & (y <= high_y)]
    at = bearings_of(scene.vertices[scene.triangles[near]] - place)
    over = near[np.abs(wrapped(at[:, [1, 2, 0]] - at).sum(axis=1)) > np.pi]
    turned_to = np.einsum("ij,j->i", scene.normals[over], place) > scene.offsets[over]
    below = turned_to == (scene.normals[over, 2] > 0)
    return over[below], turned_to[below]


def _nadir(scene: Scene, candidates: NDArray[np.int64], place: NDArray[np.float64]) -> int:
    """Packed count straight down."""
    below, turned_to = beneath(scene, candidates, place)
    return int(np.sum(np.where(turned_to, 0, scene.exit_weight[below]) + scene.cross_weight[below]))


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """Lines upright in the half-planes at some bearings of each place, by place, then by bearing.

    place : (q,); bearing : (q,) [rad, 0 to 2π), rising within a place; sine, cosine : (q,);
    first : (p + 1,) where each place's lines begin.
    """

    place: NDArray[np.int64]
    bearing: NDArray[np.float64]
    sine: NDArray[np.float64]
    cosine: NDArray[np.float64]
    first: NDArray[np.int64]


def lines_at(place: NDArray[np.int64], bearing: NDArray[np.float64], places: int) -> Lines:
    """Lines from already sorted places and bearings [rad]."""
    first = np.searchsorted(place, np.arange(places + 1))
    return Lines(place, bearing, np.sin(bearing), np.cos(bearing), first)


@dataclass(frozen=True, slots=True, eq=False)
class Spans:
    """Which lines each silhouette edge crosses.

    ``count`` of them from line ``start`` on, wrapping round from ``stop`` to ``begin``, the
    lines of its place; ``gain`` is the change of the count on passing the edge upwards.
    """

    start: NDArray[np.int64]
    count: NDArray[np.int64]
    begin: NDArray[np.int64]
    stop: NDArray[np.int64]
    gain: NDArray[np.int64]


def spans(seen: Silhouettes, lines: Lines) -> Spans:
    """The lines that each silhouette edge crosses.

    A bearing exactly at a vertex belongs to the edge that begins there counter-clockwise.
    """
    key = _APART * lines.place + lines.bearing
    after = np.searchsorted(key, seen.bearing + _APART * np.arange(seen.bearing.shape[1]))
    forward = seen.turn > 0
    first = np.where(forward, seen.tail_at, seen.head_at)
    last = np.where(forward, seen.head_at, seen.tail_at)
    start = after[first, seen.place]
    begin, stop = lines.first[seen.place], lines.first[seen.place + 1]
    wraps = seen.bearing[last, seen.place] < seen.bearing[first, seen.place]
    count = after[last, seen.place] - start + (stop - begin) * wraps
    return Spans(start, count, begin, stop, np.where(forward, seen.gain, -seen.gain))


def crossings(
    seen: Silhouettes, over: Spans, lines: Lines, chosen: NDArray[np.int64] | None = None
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.float64]]:
    """Every crossing of a silhouette edge with a line; of the ``chosen`` edges only, if given.

    Returns
    -------
    which : (k,) index into the silhouettes' edges
    at : (k,) index of the line
    tangent : (k,) tan(elevation) of the crossing
    """
    edges = np.flatnonzero(over.count) if chosen is None else chosen
    count = over.count[edges]
    which = np.repeat(edges, count)
    ends = np.cumsum(count)
    at = np.arange(len(which)) + np.repeat(over.start[edges] - ends + count, count)
    stop = over.stop[which]
    at -= np.where(at >= stop, stop - over.begin[which], 0)
    return which, at, _tangents(seen, edges, which, at, lines)


def _tangents(
    seen: Silhouettes,
    edges: NDArray[np.int64],
    which: NDArray[np.int64],
    at: NDArray[np.int64],
    lines: Lines,
) -> NDArray[np.float64]:
    # A plane that is vertical to rounding gives inf or nan here, mended just below.
    with np.errstate(invalid="ignore", over="ignore"):
        tangent: NDArray[np.float64] = (
            seen.plane[0][which] * lines.sine[at] + seen.plane[1][which] * lines.cosine[at]
        )
    # An edge that runs along the half-plane has no single crossing: any place on it will do,
    # so keep a rounded crossing within the edge's own ends.
    if np.any(np.abs(seen.turn[edges]) < RADIAL):
        odd = np.flatnonzero(np.abs(seen.turn[which]) < RADIAL)
        chosen = which[odd]
        ends = np.stack([own_tangent(seen.tail[:, chosen]), own_tangent(seen.head[:, chosen])])
        kept = np.clip(tangent[odd], ends.min(axis=0), ends.max(axis=0))
        tangent[odd] = np.where(np.isnan(kept), ends.mean(axis=0), kept)
    return tangent


def own_tangent(offset: NDArray[np.float64]) -> NDArray[np.float64]:
    """Tangent of places (3, k) measured from a light point."""
    across = np.sqrt(offset[0] * offset[0] + offset[1] * offset[1])
    return np.asarray(offset[2] / np.maximum(across, 1e-300))
