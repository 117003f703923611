"""Whether one exact curve fits inside another, and by how much: lines and arcs, never facets.

The distance from a point to a line or an arc is exact. Along a piece of the inner curve the
distance to one piece of the outer curve can only peak at the piece's ends, at crossings, at
feet of perpendiculars and at points in line with a centre, so these places decide.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, read_only
from stackview.curves.arcs import (
    Path,
    Pieces,
    bounds,
    disc_about,
    piece_bounds,
    pieces_of,
    share_of_angle,
)
from stackview.curves.crossing import crossings
from stackview.curves.ranges import ranges

CHUNK = 400_000
"""Distances worked out at a time, to bound memory."""
_FEW = 24
"""Up to as many pieces are all measured."""
_ROW = 16
"""Points in a row, mostly neighbours on a curve, that are looked at together first."""


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
    step = max(1, CHUNK // max(len(q), 1))
    away = np.concatenate([distances(points[k : k + step], q) for k in range(0, len(points), step)])
    least = int(np.argmin(away))
    return Gap(float(away[least]), (float(points[least][0]), float(points[least][1])))


def reach_outside(points: Floats, q: Pieces) -> Floats:
    """Distance (k,) of points (k, 2) from a closed curve, positive outside it and negative inside [mm]."""
    step = max(1, CHUNK // max(len(q), 1))
    parts = [_signed(points[k : k + step], q) for k in range(0, len(points), step)]
    return np.concatenate(parts) if parts else np.zeros(0)


def _signed(points: Floats, q: Pieces) -> Floats:
    distance = distances(points, q)
    return np.where(_contained(points, q), -distance, distance)


def distances(points: Floats, q: Pieces) -> Floats:
    """Distance (k,) of points (k, 2) from the nearest of the pieces [mm].

    Of many pieces only those are measured whose surrounding circles can come nearest.
    """
    if len(q) <= _FEW:
        i, j = np.divmod(np.arange(len(points) * len(q)), len(q))
    else:
        i, j = _nearest(points, q)
    gap = np.empty(len(i))
    arc = q.arc[j]
    gap[~arc] = _to_lines(points[i[~arc]], q, j[~arc])
    gap[arc] = _to_arcs(points[i[arc]], q, j[arc])
    return np.asarray(np.minimum.reduceat(gap, np.searchsorted(i, np.arange(len(points)))))


def _nearest(points: Floats, q: Pieces) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Pairs of a point, in order, and a piece that may be the nearest to it, by circles around the pieces.

    First for whole rows of points, then for each of them among what is left.
    """
    middle, radius = _circles(q)
    starts = np.arange(0, len(points), _ROW)
    low, high = np.minimum.reduceat(points, starts), np.maximum.reduceat(points, starts)
    centre, reach = 0.5 * (low + high), 0.5 * np.hypot(*(high - low).T)
    across, up = centre[:, :1] - middle[:, 0], centre[:, 1:] - middle[:, 1]
    # Only a first sieve: the plain root is quicker than hypot and good to the slack below.
    away = np.sqrt(across * across + up * up)
    within = (away + radius).min(axis=1) + 2.0 * reach
    row, piece = np.nonzero(away - radius <= (within * (1.0 + 1e-12))[:, None])
    count = np.bincount(row, minlength=len(starts))
    own = np.arange(len(points)) // _ROW
    many = count[own]
    i, j = np.repeat(np.arange(len(points)), many), piece[ranges((np.cumsum(count) - count)[own], many)]
    across, up = points[i, 0] - middle[j, 0], points[i, 1] - middle[j, 1]
    away = np.sqrt(across * across + up * up)
    nearest = np.minimum.reduceat(away + radius[j], np.cumsum(many) - many)
    left = away - radius[j] <= nearest[i] * (1.0 + 1e-12)
    return i[left], j[left]


@lru_cache(maxsize=512)
def _circles(q: Pieces) -> tuple[Floats, Floats]:
    """A circle around each piece: middle (n, 2) and radius (n,)."""
    low, high = piece_bounds(q)
    middle, radius = 0.5 * (low + high), 0.5 * np.hypot(*(high - low).T)
    read_only((middle, radius))
    return middle, radius


def _to_lines(points: Floats, q: Pieces, j: NDArray[np.int64]) -> Floats:
    """Distance of each point from the line piece that goes with it."""
    a = q.start[j]
    d, w = q.end[j] - a, points - a
    share = np.clip((w * d).sum(axis=1) / (d * d).sum(axis=1), 0.0, 1.0)
    return np.asarray(np.hypot(*(w - share[:, None] * d).T))


def _to_arcs(points: Floats, q: Pieces, j: NDArray[np.int64]) -> Floats:
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
    at, part = order[ranges(first, count)], np.repeat(np.arange(len(r.low)), count)
    off, radius = points[at, 1] - r.y[part], r.radius[part]
    half = np.sqrt(np.maximum((radius - off) * (radius + off), 0.0))
    cut = r.x[part] + np.where(radius > 0.0, r.side[part] * half, off * r.slope[part])
    odd: NDArray[np.bool_] = np.bincount(at[points[at, 0] < cut], minlength=len(points)) % 2 == 1
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


def deciding_places(p: Pieces, q: Pieces) -> tuple[NDArray[np.int64], Floats]:
    """Piece and share of every place on ``p`` that may decide, sorted along the curve.

    Ends, crossings, feet of perpendiculars and points in line with a centre, and one place
    between each two of them.
    """
    met = crossings(p, q)
    every = np.arange(len(p))
    pieces = [every, met.i]
    shares = [np.zeros(len(p)), met.u]
    targets = np.concatenate((q.start, q.centre[q.arc]))
    for k, u in (_feet(p, targets), _in_line(p, q, targets)):
        pieces.append(k)
        shares.append(u)
    piece, share = np.concatenate(pieces), np.concatenate(shares)
    order = np.lexsort((share, piece))
    piece, share = piece[order], share[order]
    last = np.append(piece[1:] != piece[:-1], True)
    following = np.where(last, 1.0, np.append(share[1:], 1.0))
    both_piece = np.repeat(piece, 2)
    both_share = np.stack((share, 0.5 * (share + following)), axis=1).reshape(-1)
    return both_piece, both_share


def _feet(p: Pieces, targets: Floats) -> tuple[NDArray[np.int64], Floats]:
    """Feet of the perpendiculars from targets (k, 2) to the lines of ``p``."""
    line = np.flatnonzero(~p.arc)
    a, d = p.start[line], p.end[line] - p.start[line]
    w = targets[None, :, :] - a[:, None, :]
    share = (w * d[:, None, :]).sum(axis=2) / (d * d).sum(axis=1)[:, None]
    i, j = np.nonzero((share > 0.0) & (share < 1.0))
    return line[i], share[i, j]


def _in_line(p: Pieces, q: Pieces, targets: Floats) -> tuple[NDArray[np.int64], Floats]:
    """Points on the arcs of ``p`` towards and away from targets (k, 2), and square to the lines of ``q``."""
    arc = np.flatnonzero(p.arc)
    if not arc.size:
        return arc, np.zeros(0)
    arcs = _arcs(p)
    w = targets[:, None, :] - arcs.centre[None, :, :]
    towards = np.arctan2(w[..., 1], w[..., 0])
    d = (q.end - q.start)[~q.arc]
    square = np.broadcast_to(np.arctan2(d[:, :1], d[:, 1:] * -1.0), (len(d), len(arc)))
    angle = np.concatenate((towards, towards + np.pi, square, square + np.pi))
    share = share_of_angle(arcs, angle)
    j, i = np.nonzero((share > 0.0) & (share < 1.0))
    return arc[i], share[j, i]


def _refined(
    p: Pieces, q: Pieces, piece: NDArray[np.int64], share: Floats, reach: Floats
) -> tuple[float, Floats]:
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
