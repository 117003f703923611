"""Where lines and arcs meet, on exact curves: line/line, line/arc and arc/arc, many pairs at once."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

import numpy as np

from stackview.arrays import Floats, Whole
from stackview.curves.arcs import Path, Pieces, piece_bounds, pieces_of

_NEAR = 1e-9
"""How far apart bounding boxes may be and still meet [mm]."""
_FIRST = 16
"""Pieces of a curve of many that are held against all others before it is known how many these are."""
_SLACK = 1e-12
"""Share of a piece's length by which a crossing may lie past its end and still count."""

MANY_PAIRS = 40_000
"""More pairs of pieces than this are sorted by a tree: from two hundred by two hundred on it is quicker."""


@dataclass(frozen=True, slots=True, eq=False)
class Crossings:
    """Crossings of the pieces of one path with those of another.

    i, j : (k,) pieces of the first and second path; u, v : (k,) share of the way along each.
    Pieces that run along each other have none.
    """

    i: Whole
    j: Whole
    u: Floats
    v: Floats


def crossings(p: Pieces, q: Pieces) -> Crossings:
    """All crossings of ``p`` with ``q``, touching ones included."""
    near = _near_pairs(p, q)
    kinds = (
        (False, False, _line_line),
        (False, True, _line_arc),
        (True, False, _arc_line),
        (True, True, _arc_arc),
    )
    found = [_NONE]
    for arc_p, arc_q, meet in kinds:
        i, j = _of_kind(p, q, *near, arc_p, arc_q)
        if i.size:
            found.append(meet(p, q, i, j))
    return _within(tuple(np.concatenate(column) for column in zip(*found, strict=True)))  # type: ignore[arg-type]


def _within(found: "_Found") -> Crossings:
    """Those that lie on both pieces."""
    i, j, u, v = found
    on = (u >= -_SLACK) & (u <= 1.0 + _SLACK) & (v >= -_SLACK) & (v <= 1.0 + _SLACK)
    return Crossings(i[on], j[on], np.clip(u[on], 0.0, 1.0), np.clip(v[on], 0.0, 1.0))


def crosses_itself(path: Path) -> tuple[float, float] | None:
    """Where a closed curve meets itself other than at its joints [mm], or None."""
    p = pieces_of(path)
    met = iter((crossings(p, p),)) if len(p) ** 2 <= MANY_PAIRS else _in_turn(p)
    for c in met:
        bad = _apart_from_joints(p, c)
        if bad.size:
            x, y = p.at(c.i[bad[:1]], c.u[bad[:1]])[0]
            return float(x), float(y)
    return _spike(p)


def _apart_from_joints(p: Pieces, c: Crossings) -> Whole:
    """Which crossings of a closed curve with itself are not where one piece goes on as the next."""
    n = len(p)
    apart = (c.j - c.i) % n
    # Neighbours share a joint, and a two-piece curve shares both. Where the joint is tangent, the
    # crossing found is off along the curve by the square root of the rounding.
    chord = p.end - p.start
    size = np.where(p.arc, p.radius * np.abs(p.sweep), np.hypot(chord[:, 0], chord[:, 1]))
    near = 1e-5 * (1.0 + np.maximum(p.radius[c.i], p.radius[c.j]))
    ahead = ((1.0 - c.u) * size[c.i] < near) & (c.v * size[c.j] < near)
    behind = (c.u * size[c.i] < near) & ((1.0 - c.v) * size[c.j] < near)
    at_joint = ((apart == 1) & ahead) | ((apart == n - 1) & behind)
    return np.flatnonzero((apart != 0) & ~at_joint)


def _in_turn(p: Pieces) -> Iterator[Crossings]:
    """The crossings of many pieces with each other, some at a time, in the order of :func:`crossings`.

    What is left out is told by the same pair the other way round: an arc's crossings with a line, and
    those of two arcs on the right of the line from centre to centre.
    """
    passes: tuple[tuple[bool, bool, Callable[[Pieces, Pieces, Whole, Whole], _Found]], ...] = (
        (False, False, _line_line),
        (False, True, partial(_line_arc, sides=(-1.0,))),
        (False, True, partial(_line_arc, sides=(1.0,))),
        (True, True, partial(_arc_arc, sides=(1.0,))),
    )
    low, high = piece_bounds(p)
    for arc_i, arc_j, meet in passes:
        for i, j in _pairs_in_turn(low, high, np.flatnonzero(p.arc == arc_i), np.flatnonzero(p.arc == arc_j)):
            yield _within(meet(p, p, i, j))


def _pairs_in_turn(low: Floats, high: Floats, ones: Whole, others: Whole) -> Iterator[tuple[Whole, Whole]]:
    """Pairs of two kinds of pieces whose bounding boxes meet, about :data:`MANY_PAIRS` at a time."""
    if not (ones.size and others.size):
        return
    import shapely

    tree = shapely.STRtree(shapely.box(*(low[others] - _NEAR).T, *(high[others] + _NEAR).T))
    begin, count = 0, _FIRST
    while begin < ones.size:
        some = ones[begin : begin + count]
        i, j = tree.query(shapely.box(*low[some].T, *high[some].T))
        order = np.lexsort((j, i))
        yield some[i[order]], others[j[order]]
        begin += count
        count = int(np.clip(count * MANY_PAIRS / max(i.size, 1), 1, 16 * count))


def _spike(p: Pieces) -> tuple[float, float] | None:
    """Find a joint at which the curve turns back along itself."""
    out = directions(p, np.zeros(len(p)))
    into = np.roll(directions(p, np.ones(len(p))), 1, axis=0)
    back = np.flatnonzero((into * out).sum(axis=1) < -1.0 + 1e-12)
    return (float(p.start[back[0], 0]), float(p.start[back[0], 1])) if back.size else None


def directions(p: Pieces, share: Floats) -> Floats:
    """Give the unit directions of travel (n, 2) of each piece at ``share`` of its length."""
    chord = p.end - p.start
    size = np.hypot(chord[:, 0], chord[:, 1])
    straight = chord / np.where(size > 0.0, size, 1.0)[:, None]
    if not p.arc.any():
        return straight
    angle = p.first + share * p.sweep
    way = np.where(p.sweep < 0.0, -1.0, 1.0)
    round_ = np.column_stack((-np.sin(angle), np.cos(angle))) * way[:, None]
    return np.where(p.arc[:, None], round_, straight)


def _near_pairs(p: Pieces, q: Pieces) -> tuple[Whole, Whole]:
    """Pairs whose bounding boxes meet."""
    low, high = piece_bounds(p)
    low_q, high_q = (low, high) if q is p else piece_bounds(q)
    if len(p) * len(q) > MANY_PAIRS:
        import shapely

        tree = shapely.STRtree(shapely.box(*(low_q - _NEAR).T, *(high_q + _NEAR).T))
        i, j = tree.query(shapely.box(*low.T, *high.T))
        order = np.lexsort((j, i))
        return i[order].astype(np.int64), j[order].astype(np.int64)
    near = np.ones((len(p), len(q)), dtype=bool)
    for axis in (0, 1):
        near &= low[:, None, axis] <= high_q[None, :, axis] + _NEAR
        near &= high[:, None, axis] + _NEAR >= low_q[None, :, axis]
    i, j = np.nonzero(near)
    return i, j


def _of_kind(p: Pieces, q: Pieces, i: Whole, j: Whole, arc_p: bool, arc_q: bool) -> tuple[Whole, Whole]:
    keep = (p.arc[i] == arc_p) & (q.arc[j] == arc_q)
    return i[keep], j[keep]


_Found = tuple[Whole, Whole, Floats, Floats]


_NONE: _Found = (np.zeros(0, np.int64), np.zeros(0, np.int64), np.zeros(0), np.zeros(0))


def _line_line(p: Pieces, q: Pieces, i: Whole, j: Whole) -> _Found:
    """Crossing of two lines by Cramer's rule; parallel ones have none."""
    a, d = p.start[i], p.end[i] - p.start[i]
    b, e = q.start[j], q.end[j] - q.start[j]
    cross = d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]
    size = np.hypot(d[:, 0], d[:, 1]) * np.hypot(e[:, 0], e[:, 1])
    ok = np.abs(cross) > 1e-14 * size
    i, j, a, d, b, e, cross = i[ok], j[ok], a[ok], d[ok], b[ok], e[ok], cross[ok]
    w = b - a
    u = (w[:, 0] * e[:, 1] - w[:, 1] * e[:, 0]) / cross
    v = (w[:, 0] * d[:, 1] - w[:, 1] * d[:, 0]) / cross
    return i, j, u, v


def _line_arc(p: Pieces, q: Pieces, i: Whole, j: Whole, sides: tuple[float, ...] = (-1.0, 1.0)) -> _Found:
    """Crossings of lines of ``p`` with arcs of ``q``: foot of the centre minus and plus half the chord."""
    a, d = p.start[i], p.end[i] - p.start[i]
    size = np.hypot(d[:, 0], d[:, 1])
    d = d / np.where(size > 0.0, size, 1.0)[:, None]
    w = q.centre[j] - a
    foot = (w * d).sum(axis=1)
    off = w[:, 0] * d[:, 1] - w[:, 1] * d[:, 0]
    half2 = (q.radius[j] - np.abs(off)) * (q.radius[j] + np.abs(off))
    # A line that grazes the circle to within rounding touches it at the foot.
    ok = (half2 > -1e-12 * q.radius[j] ** 2) & (size > 0.0)
    i, j, size, foot, half, a, d = (
        i[ok],
        j[ok],
        size[ok],
        foot[ok],
        np.sqrt(np.maximum(half2[ok], 0.0)),
        a[ok],
        d[ok],
    )
    along = np.concatenate([foot + side * half for side in sides])
    i, j, size, a, d = (np.concatenate([x] * len(sides)) for x in (i, j, size, a, d))
    return i, j, along / size, _share_on(q, j, a + d * along[:, None])


def _arc_line(p: Pieces, q: Pieces, i: Whole, j: Whole) -> _Found:
    j, i, v, u = _line_arc(q, p, j, i)
    return i, j, u, v


def _arc_arc(p: Pieces, q: Pieces, i: Whole, j: Whole, sides: tuple[float, ...] = (1.0, -1.0)) -> _Found:
    """Crossings of two circles left and right of the line from centre to centre, by the common chord's foot."""
    w = q.centre[j] - p.centre[i]
    apart2 = (w * w).sum(axis=1)
    r, s = p.radius[i], q.radius[j]
    ok = apart2 > (1e-12 * (r + s)) ** 2
    i, j, w, apart2, r, s = i[ok], j[ok], w[ok], apart2[ok], r[ok], s[ok]
    apart = np.sqrt(apart2)
    foot = (apart2 + (r - s) * (r + s)) / (2.0 * apart)
    half2 = (r - np.abs(foot)) * (r + np.abs(foot))
    ok = half2 > -1e-12 * r * r
    i, j, foot, half = i[ok], j[ok], foot[ok], np.sqrt(np.maximum(half2[ok], 0.0))
    d = w[ok] / apart[ok][:, None]
    left = np.column_stack((-d[:, 1], d[:, 0]))
    base = p.centre[i] + d * foot[:, None]
    points = np.concatenate([base + side * left * half[:, None] for side in sides])
    i, j = np.concatenate([i] * len(sides)), np.concatenate([j] * len(sides))
    return i, j, _share_on(p, i, points), _share_on(q, j, points)


def _share_on(q: Pieces, j: Whole, points: Floats) -> Floats:
    """Give the share of arcs ``j`` at which ``points`` of their circles lie; over 1 or under 0 if off."""
    spoke = points - q.centre[j]
    sweep = q.sweep[j]
    way = np.where(sweep < 0.0, -1.0, 1.0)
    turned = np.mod((np.arctan2(spoke[:, 1], spoke[:, 0]) - q.first[j]) * way, 2.0 * np.pi)
    turned = np.where(turned > 2.0 * np.pi - 1e-9, turned - 2.0 * np.pi, turned)
    share: Floats = turned / np.abs(sweep)
    # An angle is known to about 1e-15: what lies that close to an end is at the end.
    share = np.where(np.abs(share) * np.abs(sweep) < 1e-13, 0.0, share)
    return np.where(np.abs(share - 1.0) * np.abs(sweep) < 1e-13, 1.0, share)
