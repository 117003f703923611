"""Whether one exact curve fits inside another, and by how much: lines and arcs, never facets.

The distance from a point to a line or an arc is exact. Along a piece of the inner curve the
distance to one piece of the outer curve can only peak at the piece's ends, at crossings, at
feet of perpendiculars and at points in line with a centre, so these places decide.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole, read_only
from stackview.curves.arcs import Path, Pieces, bounds, disc_about, pieces_of, share_of_angle
from stackview.curves.deciding import deciding_places
from stackview.curves.near import RUN, Chords, chords_of, few_nearest_pairs, members
from stackview.curves.ranges import ranges

CHUNK = 400_000
"""Distances worked out at a time, to bound memory."""
_FEW = 24
"""Up to as many pieces are all measured."""
_ROW = 16
"""Points in a row, mostly neighbours on a curve, that are looked at together first."""
_ROWS = 4096
"""Rows that are sieved at once."""


@dataclass(frozen=True, slots=True)
class Fit:
    """Whether it fits, by how much, and where.

    ``by`` [mm] is the greatest distance by which the inner curve reaches outside the outer one
    (positive), or else the least clearance between them, negative; 0 where they touch.
    ``at`` is the place on the inner curve.
    """

    fits: bool
    by: float
    at: tuple[float, float]


@lru_cache(maxsize=2048)
def inside(inner: Path, outer: Path, tolerance: float = 1e-9) -> Fit:
    """Whether ``inner`` fits inside ``outer`` when it may touch it within ``tolerance`` [mm]."""
    p, q = pieces_of(inner), pieces_of(outer)
    piece, share = deciding_places(p, q)
    points = p.at(piece, share)
    reach = reach_outside(points, q)
    best = int(np.argmax(reach))
    by, at = float(reach[best]), points[best]
    if by > tolerance:
        by, at = _refined(p, q, piece, share, reach)
    return Fit(by <= tolerance, by, (float(at[0]), float(at[1])))


def lies_inside(inner: Path, outer: Path, tolerance: float = 1e-9) -> bool:
    """``inside(inner, outer, tolerance).fits``, without where and by how much."""
    a, b = bounds(inner), bounds(outer)
    if (
        a[0] < b[0] - tolerance
        or a[1] < b[1] - tolerance
        or a[2] > b[2] + tolerance
        or a[3] > b[3] + tolerance
    ):
        return False
    if room_inside(inner, outer) >= 0.0:
        return True
    p, q = pieces_of(inner), pieces_of(outer)
    return float(reach_outside(p.at(*deciding_places(p, q)), q).max()) <= tolerance


def room_inside(inner: Path, outer: Path) -> float:
    """Find a clearance [mm] that ``inner`` has inside ``outer`` at least; negative says nothing.

    The circle about it has it, so the curve has it: one distance instead of many.
    """
    centre, radius = disc_about(inner)
    return -float(reach_outside(centre[None, :], pieces_of(outer))[0]) - radius


@lru_cache(maxsize=2048)
def overlapping(a: Path, b: Path, tolerance: float = 1e-9) -> bool:
    """Whether the areas inside two curves share more than an edge, to within ``tolerance`` [mm].

    A negative tolerance asks whether they come nearer to each other than that.
    """
    p, q = pieces_of(a), pieces_of(b)
    for one, about, other in ((p, a, q), (q, b, p)):
        centre, radius = disc_about(about)
        points = np.concatenate((centre[None, :], one.start))
        reach = reach_outside(points, other)
        if reach[0] > radius - tolerance:
            return False
        if reach[1:].min() < -tolerance:
            return True
    for one, other in ((p, q), (q, p)):
        reach = reach_outside(one.at(*deciding_places(one, other)), other)
        # Neither of two equal curves reaches into the other.
        if reach.min() < -tolerance or np.abs(reach).max() <= abs(tolerance):
            return True
    return False


@dataclass(frozen=True, slots=True)
class Gap:
    """The least distance between two curves [mm], and the place on the first of them where it is."""

    by: float
    at: tuple[float, float]


@lru_cache(maxsize=512)
def gap(a: Path, b: Path) -> Gap:
    """The least distance between two curves that do not cross, whichever lies inside the other or beside it.

    Curves that cross or touch have a gap of 0, where they do. The places that decide a fit
    decide this too: two curves are nearest at an end, at a foot of a perpendicular, or in line
    with a centre.
    """
    p, q = pieces_of(a), pieces_of(b)
    points = p.at(*deciding_places(p, q))
    away = distances(points, q)
    least = int(np.argmin(away))
    return Gap(float(away[least]), (float(points[least][0]), float(points[least][1])))


def reach_outside(points: Floats, q: Pieces) -> Floats:
    """Distance (k,) of points (k, 2) from a closed curve, positive outside it and negative inside [mm]."""
    away = distances(points, q)
    return np.where(_contained(points, q), -away, away)


def distances(points: Floats, q: Pieces) -> Floats:
    """Distance (k,) of points (k, 2) from the nearest of the pieces [mm].

    Of many pieces only those are measured that can be the nearest: first for rows of points, which
    mostly are neighbours on a curve, then for each of them among what is left.
    """
    if 0 < len(points) * len(q) <= CHUNK and len(q) <= _FEW:
        i, j = np.divmod(np.arange(len(points) * len(q)), len(q))
        return _least(points, q, i, j)
    found = np.empty(len(points))
    for batch, i, j in _near_rows(points, q):
        found[batch] = _least(points[batch], q, i, j)
    return found


def _near_rows(points: Floats, q: Pieces) -> Iterator[tuple[slice, Whole, Whole]]:
    """Pairs of a point, in order and counted from its batch's first, and a piece that may be the nearest to it."""
    starts = np.arange(0, len(points), _ROW)
    low, high = np.minimum.reduceat(points, starts), np.maximum.reduceat(points, starts)
    centre, reach = 0.5 * (low + high), 0.5 * np.hypot(*(high - low).T)
    levels = chords_of(q)
    # Rows are held against runs of pieces, if there are any, and each point against what is left of these.
    runs = levels[:-1] or levels
    for first, row, run in _pairs_of_rows(centre, reach, runs):
        count = np.bincount(row)
        before = np.cumsum(count) - count
        for rows in _batches(count * _ROW):
            start, stop = (first + rows.start) * _ROW, min((first + rows.stop) * _ROW, len(points))
            own = np.arange(start, stop) // _ROW - first
            many = count[own]
            i, j = np.repeat(np.arange(len(own)), many), run[ranges(before[own], many)]
            i, j = _sieved(points[start:stop], runs[-1], i, j)
            if len(runs) == len(levels):
                yield slice(start, stop), i, j
                continue
            for some, k, piece in _in_runs(i, j, levels[-1]):
                found = slice(start + some.start, start + some.stop)
                yield found, *(_sieved(points[found], levels[-1], k, piece) if q.arc.any() else (k, piece))


def _sieved(points: Floats, chords: Chords, i: Whole, j: Whole) -> tuple[Whole, Whole]:
    """Of pairs of a point and a run, those that may be the nearest to it."""
    away = chords.away(points[:, 0].take(i), points[:, 1].take(i), j)
    left = np.flatnonzero(chords.nearest(i, away, j))
    return i[left], j[left]


def _in_runs(i: Whole, j: Whole, pieces: Chords) -> Iterator[tuple[slice, Whole, Whole]]:
    """Pairs of a point and a piece from pairs (k,) of a point and a run, by points in order."""
    many = members(j, len(pieces))
    count = np.bincount(i)
    before = np.cumsum(count) - count
    for some in _batches(np.add.reduceat(many, before)):
        pairs = slice(before[some.start], before[some.stop - 1] + count[some.stop - 1])
        each = many[pairs]
        yield some, np.repeat(i[pairs] - some.start, each), ranges(RUN * j[pairs], each)


def _pairs_of_rows(
    centre: Floats, reach: Floats, levels: tuple[Chords, ...]
) -> Iterator[tuple[int, Whole, Whole]]:
    """Rows, counted from the first that goes before them, and runs that may be the nearest to points in them.

    So many rows at once as have few such runs; in line with a centre all may be.
    """
    surely = max(1, 4 * CHUNK // len(levels[-1]))
    first, step = 0, _ROWS
    while first < len(centre):
        some = slice(first, first + step)
        most = 4 * CHUNK if step > surely else step * len(levels[-1])
        pairs = few_nearest_pairs(centre[some], reach[some], levels, most)
        if pairs is None:
            step = max(surely, step // 4)
            continue
        yield first, *pairs
        first, step = first + step, min(2 * step, _ROWS)


def _batches(sizes: Whole) -> Iterator[slice]:
    """Runs of things of such sizes, each of no more than :data:`CHUNK` together, or of one alone."""
    ends = np.cumsum(sizes)
    start = 0
    while start < len(sizes):
        done = ends[start - 1] if start else 0
        stop = max(start + 1, int(np.searchsorted(ends, done + CHUNK, side="right")))
        yield slice(start, stop)
        start = stop


def _least(points: Floats, q: Pieces, i: Whole, j: Whole) -> Floats:
    """The least distance of each point (k,) from the pieces ``j`` that go with it, by pairs in the points' order."""
    away = np.empty(len(i))
    arc = q.arc[j]
    away[~arc] = _to_lines(points[i[~arc]], q, j[~arc])
    away[arc] = _to_arcs(points[i[arc]], q, j[arc])
    return np.asarray(np.minimum.reduceat(away, np.searchsorted(i, np.arange(len(points)))))


def _to_lines(points: Floats, q: Pieces, j: Whole) -> Floats:
    """Distance of each point from the line piece that goes with it."""
    # By columns: sums along rows of two take longer than all else.
    (ax, ay), (bx, by) = q.start.take(j, axis=0).T, q.end.take(j, axis=0).T
    dx, dy, wx, wy = bx - ax, by - ay, points[:, 0] - ax, points[:, 1] - ay
    share = np.clip((wx * dx + wy * dy) / (dx * dx + dy * dy), 0.0, 1.0)
    return np.asarray(np.hypot(wx - share * dx, wy - share * dy))


def _to_arcs(points: Floats, q: Pieces, j: Whole) -> Floats:
    """Distance of each point from its arc: along the radius if the arc lies that way, else to its ends."""
    arcs = Pieces(*(getattr(q, name)[j] for name in Pieces.__slots__))
    wx, wy = (points - arcs.centre).T
    on = share_of_angle(arcs, np.arctan2(wy, wx)) <= 1.0
    radial = np.abs(np.hypot(wx, wy) - arcs.radius)
    ends = np.minimum(np.hypot(*(points - arcs.start).T), np.hypot(*(points - arcs.end).T))
    return np.asarray(np.where(on, radial, ends))


@lru_cache(maxsize=512)
def _arcs(q: Pieces) -> Pieces:
    return q if q.arc.all() else Pieces(*(getattr(q, name)[q.arc] for name in Pieces.__slots__))


def _contained(points: Floats, q: Pieces) -> NDArray[np.bool_]:
    """Even-odd rule along a ray to the right, arcs cut at their highest and lowest points first.

    Each part then rises or falls all the way, so that the half-open rule on its heights counts
    every crossing once.
    """
    r = _risers(q)
    order = np.argsort(points[:, 1])
    rising = points[order, 1]
    # Only the points between a part's heights are looked at: half-open, low ≤ y < high.
    first = np.searchsorted(rising, r.low)
    count = np.searchsorted(rising, r.high) - first
    cuts = np.zeros(len(points), dtype=np.int64)
    for some in _batches(count):
        at = order[ranges(first[some], count[some])]
        part = np.repeat(np.arange(some.start, some.stop), count[some])
        off, radius = points[at, 1] - r.y[part], r.radius[part]
        half = np.sqrt(np.maximum((radius - off) * (radius + off), 0.0))
        cut = r.x[part] + np.where(radius > 0.0, r.side[part] * half, off * r.slope[part])
        cuts += np.bincount(at[points[at, 0] < cut], minlength=len(points))
    odd: NDArray[np.bool_] = cuts % 2 == 1
    return odd


@dataclass(frozen=True, slots=True, eq=False)
class _Risers:
    """Parts of a curve that rise or fall all the way, from ``low`` to ``high`` (n,) [mm].

    Lines pass through (x, y) with ``slope`` dx/dy; arcs have their centre at (x, y), a radius,
    and lie on the right (+1) or left (−1) ``side`` of it.
    """

    low: Floats
    high: Floats
    x: Floats
    y: Floats
    slope: Floats
    radius: Floats
    side: Floats

    def __post_init__(self) -> None:
        read_only(getattr(self, name) for name in self.__slots__)


@lru_cache(maxsize=512)
def _risers(q: Pieces) -> _Risers:
    line = np.flatnonzero(~q.arc)
    a, b = q.start[line], q.end[line]
    rise = b[:, 1] - a[:, 1]
    level = rise == 0.0
    slope = np.where(level, 0.0, (b[:, 0] - a[:, 0]) / np.where(level, 1.0, rise))
    zero = np.zeros(len(line))
    parts: list[tuple[Floats, ...]] = [
        (np.minimum(a[:, 1], b[:, 1]), np.maximum(a[:, 1], b[:, 1]), a[:, 0], a[:, 1], slope, zero, zero)
    ]
    if q.arc.any():
        parts.extend(_rising_arcs(_arcs(q)))
    return _Risers(*(np.concatenate(column) for column in zip(*parts, strict=True)))


def _rising_arcs(arcs: Pieces) -> list[tuple[Floats, ...]]:
    """Arcs cut at their highest and lowest points, as columns of _Risers."""
    n = len(arcs)
    peaks = [np.minimum(share_of_angle(arcs, np.full(n, a)), 1.0) for a in (0.5 * np.pi, 1.5 * np.pi)]
    shares = np.sort(np.vstack((np.zeros(n), *peaks, np.ones(n))), axis=0)
    # A peak's height is the centre's plus or minus the radius; ends keep the height of the joint.
    up = np.sin(arcs.first + shares * arcs.sweep) > 0.0
    heights = arcs.centre[:, 1] + np.where(up, arcs.radius, -arcs.radius)
    heights = np.where(shares <= 0.0, arcs.start[:, 1], np.where(shares >= 1.0, arcs.end[:, 1], heights))
    parts: list[tuple[Floats, ...]] = []
    for s in range(3):
        real = shares[s + 1] > shares[s]
        middle = arcs.first + 0.5 * (shares[s] + shares[s + 1]) * arcs.sweep
        low, high = np.minimum(heights[s], heights[s + 1]), np.maximum(heights[s], heights[s + 1])
        side = np.where(np.cos(middle) < 0.0, -1.0, 1.0)
        columns = (low, high, arcs.centre[:, 0], arcs.centre[:, 1], np.zeros(n), arcs.radius, side)
        parts.append(tuple(c[real] for c in columns))
    return parts


def _refined(p: Pieces, q: Pieces, piece: Whole, share: Floats, reach: Floats) -> tuple[float, Floats]:
    """Find the greatest reach and where it is, to 1e-10 mm.

    Between two places the reach is the least of smooth distances and cannot change faster than
    one walks along the curve. Stretches whose ends allow more than the best so far are cut
    finer until none is left that is longer than 1e-10 mm.
    """
    chord = p.end - p.start
    size = np.where(p.arc, p.radius * np.abs(p.sweep), np.hypot(chord[:, 0], chord[:, 1]))
    last = np.append(piece[1:] != piece[:-1], True)
    low, high = share, np.where(last, 1.0, np.append(share[1:], 1.0))
    best = int(np.argmax(reach))
    by, at = float(reach[best]), p.at(piece[best : best + 1], share[best : best + 1])[0]
    ends = np.append(reach[1:], reach[0])
    most = 0.5 * (reach + ends + (high - low) * size[piece])
    for _ in range(16):
        keep = np.flatnonzero((most > by + 1e-10) & ((high - low) * size[piece] > 1e-10))
        # On a plateau (a side parallel to the edge) every stretch stays open: the few that promise most do.
        keep = keep[np.argsort(-most[keep], kind="stable")[:12]]
        if not keep.size:
            break
        grid = low[keep, None] + (high - low)[keep, None] * np.linspace(0.0, 1.0, 17)
        k = np.repeat(piece[keep], 17)
        points = p.at(k, grid.reshape(-1))
        value = reach_outside(points, q).reshape(grid.shape)
        top = int(np.argmax(value))
        if value.flat[top] > by:
            by, at = float(value.flat[top]), points[top]
        piece = np.repeat(piece[keep], 16)
        low, high = grid[:, :-1].reshape(-1), grid[:, 1:].reshape(-1)
        most = 0.5 * (value[:, :-1] + value[:, 1:]).reshape(-1) + 0.5 * (high - low) * size[piece]
    return by, at
