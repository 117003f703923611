"""A polygon's edges moving inwards at one speed: the plan of a bevel of constant slope.

Each corner runs along the bisector of its edges (the mitre). An edge that shrinks to nothing
drops out and its neighbours meet instead, which is what happens round a facetted corner whose
radius is smaller than the bevel. The front stops where a corner runs into an edge across the
shape or where nothing is left. (Aichholzer, Aurenhammer, Alberts & Gärtner, A novel type of
skeleton for polygons, J. UCS 1(12), 1995: edge events and split events.)
"""

from dataclasses import dataclass, field

import manifold3d
import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole

_AT_ONCE = 1e-11
"""Events closer together than this [mm] happen together."""


class Closed(Exception):  # noqa: N818 - turned into a SolidError by the caller, who knows the field
    """The front cannot go as far as asked: ``limit`` [mm] is where it closes up."""

    def __init__(self, limit: float) -> None:
        self.limit = limit
        super().__init__(f"the front closes at {limit}")


@dataclass(frozen=True, slots=True, eq=False)
class Swept:
    """The strip that the front has swept, as planar faces, one an edge of the polygon.

    points : (k, 2), the polygon's own first; way : (k,) how far the front had come there [mm];
    triangles : (m, 3) counter-clockwise seen from outside the shape with the way upwards;
    edge : (m,) the polygon's edge whose face the triangle is of; last : (j,) points of the
    final front, in order.
    """

    points: Floats
    way: Floats
    triangles: Whole
    edge: Whole
    last: Whole


@dataclass(slots=True)
class _Run:
    """The front on its way: corners, the edges after them, and the trail of what dropped out."""

    x: Floats
    edge: Whole
    direction: Floats
    now: float = 0.0
    points: list[Floats] = field(default_factory=list)
    way: list[float] = field(default_factory=list)
    left: dict[int, list[int]] = field(default_factory=dict)
    right: dict[int, list[int]] = field(default_factory=dict)

    def new_node(self, at: Floats) -> int:
        self.points.append(at)
        self.way.append(self.now)
        return len(self.way) - 1


def swept(polygon: Floats, width: float) -> Swept:
    """Move the edges of ``polygon`` (n, 2) to their left by ``width`` [mm].

    The shape lies to the left of its edges: counter-clockwise for an outer edge, clockwise for
    the edge of a hole. Raises Closed with the greatest width where it cannot go that far.
    """
    run = _begun(polygon)
    while True:
        direction = run.direction[run.edge]
        velocity, turn = _velocities(direction)
        if velocity is None:
            raise Closed(run.now)
        ends = np.roll(run.x, -1, axis=0)
        size = ((ends - run.x) * direction).sum(axis=1)
        rate = ((velocity - np.roll(velocity, -1, axis=0)) * direction).sum(axis=1)
        shrinking = rate > 1e-15
        wait = np.where(shrinking, np.maximum(size, 0.0) / np.where(shrinking, rate, 1.0), np.inf)
        soonest = float(wait.min())
        rest = width - run.now
        split = _first_split(run, direction, velocity, turn, min(rest, soonest))
        if split < min(rest, soonest - _AT_ONCE):
            raise Closed(run.now + split)
        if soonest > rest - _AT_ONCE and not soonest <= rest - _AT_ONCE:
            if soonest <= rest + _AT_ONCE and len(run.edge) - (wait <= rest + _AT_ONCE).sum() < 3:
                raise Closed(run.now + soonest)
            run.x = run.x + velocity * rest
            run.now = width
            return _finished(run, len(polygon))
        run.x = run.x + velocity * soonest
        run.now += soonest
        _collapse(run, wait <= soonest + _AT_ONCE)


def _begun(polygon: Floats) -> _Run:
    ahead = np.concatenate((polygon[1:], polygon[:1])) - polygon
    direction = ahead / np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
    every = np.arange(len(polygon))
    return _Run(polygon, every, direction, 0.0, list(polygon), [0.0] * len(polygon))


def _velocities(direction: Floats) -> tuple[Floats | None, Floats]:
    """Velocity (m, 2) of each corner for unit speed of the edges, and the sine of its turn.

    A point on both edges moves by v with v·n1 = v·n2 = 1, so v = (n1 + n2)/(1 + n1·n2).
    None where two opposite edges meet head on.
    """
    normal = np.column_stack((-direction[:, 1], direction[:, 0]))
    before = np.roll(normal, 1, axis=0)
    back = np.roll(direction, 1, axis=0)
    turn = back[:, 0] * direction[:, 1] - back[:, 1] * direction[:, 0]
    spread = 1.0 + (normal * before).sum(axis=1)
    if spread.min() < 1e-12:
        return None, turn
    return (normal + before) / spread[:, None], turn


def _first_split(run: _Run, direction: Floats, velocity: Floats, turn: Floats, within: float) -> float:
    """How soon a corner that sticks in runs into an edge across the shape [mm]; inf if not ``within``."""
    corner = np.flatnonzero(turn < -1e-12)
    m = len(direction)
    if not corner.size or m < 4:
        return np.inf
    normal = np.column_stack((-direction[:, 1], direction[:, 0]))
    v = velocity[corner]
    wx = run.x[corner, :1] - run.x[:, 0]
    wy = run.x[corner, 1:] - run.x[:, 1]
    gap = wx * normal[:, 0] + wy * normal[:, 1]
    closing = 1.0 - (v[:, :1] * normal[:, 0] + v[:, 1:] * normal[:, 1])
    meets = (closing > 1e-12) & (gap > -1e-9)
    wait = np.where(meets, np.maximum(gap, 0.0) / np.where(meets, closing, 1.0), np.inf)
    rows = np.arange(len(corner))
    wait[rows, corner] = np.inf
    wait[rows, corner - 1] = np.inf
    k, j = np.nonzero(wait < within)
    if not k.size:
        return np.inf
    t = wait[k, j][:, None]
    place = run.x[corner[k]] + velocity[corner[k]] * t
    ends = (j + 1) % m
    a, b = run.x[j] + velocity[j] * t, run.x[ends] + velocity[ends] * t
    along = ((place - a) * direction[j]).sum(axis=1)
    hit = (along > -1e-9) & (along < ((b - a) * direction[j]).sum(axis=1) + 1e-9)
    return float(t[hit, 0].min()) if hit.any() else np.inf


def _collapse(run: _Run, gone: NDArray[np.bool_]) -> None:
    """Drop the edges that have shrunk to nothing; the corners at both ends of each run become one."""
    m = len(gone)
    if m - int(gone.sum()) < 3:
        raise Closed(run.now)
    for first in np.flatnonzero(gone & ~np.roll(gone, 1)):
        count = 1
        while gone[(first + count) % m]:
            count += 1
        edges = (first + np.arange(count)) % m
        corners = np.append(edges, (first + count) % m)
        node = run.new_node(run.x[corners].mean(axis=0))
        _trail(run.right, run.edge[first - 1]).append(node)
        _trail(run.left, run.edge[corners[-1]]).append(node)
        for k in edges:
            _trail(run.left, run.edge[k]).append(node)
            _trail(run.right, run.edge[k])
        run.x[corners[-1]] = run.points[node]
    run.x, run.edge = run.x[~gone], run.edge[~gone]


def _trail(trails: dict[int, list[int]], edge: np.int64) -> list[int]:
    return trails.setdefault(int(edge), [])


def _finished(run: _Run, n: int) -> Swept:
    base = len(run.way)
    points = np.concatenate((np.asarray(run.points), run.x))
    way = np.concatenate((np.asarray(run.way), np.full(len(run.x), run.now)))
    last = base + np.arange(len(run.x))
    plain = np.array([e not in run.left and e not in run.right for e in run.edge.tolist()], dtype=bool)
    k = np.flatnonzero(plain)
    a, b = run.edge[k], (run.edge[k] + 1) % n
    c, d = last[(k + 1) % len(last)], last[k]
    triangles = [np.stack((np.column_stack((a, b, c)), np.column_stack((a, c, d))), axis=1).reshape(-1, 3)]
    edges = [np.repeat(a, 2)]
    top = {int(e): (int(last[i]), int(last[(i + 1) % len(last)])) for i, e in enumerate(run.edge)}
    for e in sorted(set(run.left) | set(run.right)):
        left, right = run.left.get(e, []), run.right.get(e, [])
        crown = [top[e][1], top[e][0]] if e in top else []
        loop = np.array([e, (e + 1) % n, *right, *crown, *left[::-1]])
        flat = np.column_stack(((points[loop] - points[e]) @ run.direction[e], way[loop]))
        triangles.append(loop[np.asarray(manifold3d.triangulate([flat]))])
        edges.append(np.full(len(triangles[-1]), e))
    return Swept(points, way, np.concatenate(triangles), np.concatenate(edges), last)
