"""Glazed bands: the elevations at which a light point shows through clear acrylic, and bands of every kind together.

Straight lines tell bare and veiled exactly, but not glazed: clear acrylic bends light, so that
what lies straight behind it may not be seen, and what lies behind wood may be. Here lines that
only cross clear acrylic count for nothing, and the traced beams are laid over the rest where
the point is not bare.
"""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.sight.bands import NARROWEST, TRACED, Bands, Kind
from stackview.sight.beams import TOLERANCE, Beams

_NARROW = 0.02
"""Traced bands narrower than this are left out [°]."""
CLOSE = TOLERANCE
"""Traced bands nearer to each other than this are one: the tubes' joints are not closer than that [°]."""
_RANKS = {Kind.BARE: 1 << 40, Kind.GLAZED: 1 << 20, Kind.VEILED: 1}


def with_glazed(straight: Bands, beams: Beams) -> Bands:
    """Straight and traced bands together: of each elevation the most exposed, bare before glazed before veiled."""
    kept = without_glazed(straight)
    if not len(beams):
        return kept
    point, bearing, low, high = glazed_bands(beams, straight.bearings)
    traced = np.full(len(point), TRACED)
    size = len(straight.bearings)
    key = np.concatenate([kept.point.astype(np.int64) * size + kept.bearing, point * size + bearing])
    kinds = np.concatenate([kept.kind.astype(np.int64), np.full(len(point), int(Kind.GLAZED))])
    rank = np.array([_RANKS[kind] for kind in Kind])[kinds]
    found = _most_exposed(
        np.concatenate([key, key]),
        np.concatenate([kept.low, low, kept.high, high]),
        np.concatenate([rank, -rank]),
        np.concatenate([kept.low_edge, traced, kept.high_edge, traced]),
    )
    key, low, high, kind, low_edge, high_edge = found
    return Bands(
        np.array(straight.bearings),
        (key // size).astype(np.int32),
        (key % size).astype(np.int32),
        low,
        high,
        kind.astype(np.int8),
        low_edge.astype(np.int32),
        high_edge.astype(np.int32),
    )


def _most_exposed(
    key: Whole, elevation: Floats, step: Whole, edge: Whole
) -> tuple[Whole, Floats, Floats, Whole, Whole, Whole]:
    """Between begins and ends of bands, the most exposed kind: key, low, high, kind, low edge, high edge."""
    order = np.lexsort((step, elevation, key))
    key, elevation, step, edge = key[order], elevation[order], step[order], edge[order]
    running = np.cumsum(step)
    kind = np.where(
        running >= _RANKS[Kind.BARE],
        Kind.BARE,
        np.where(running >= _RANKS[Kind.GLAZED], Kind.GLAZED, Kind.VEILED),
    )
    width = np.zeros(len(key))
    width[:-1] = np.where(key[1:] == key[:-1], elevation[1:] - elevation[:-1], 0.0)
    index = np.flatnonzero((running > 0) & (width > np.degrees(NARROWEST)))
    begins = np.ones(len(index), dtype=bool)
    begins[1:] = (
        (key[index[1:]] != key[index[:-1]])
        | (kind[index[1:]] != kind[index[:-1]])
        | (elevation[index[1:]] - elevation[index[:-1] + 1] > np.degrees(NARROWEST))
    )
    first, last = index[begins], index[np.append(begins[1:], True)[: len(index)]] + 1
    return key[first], elevation[first], elevation[last], kind[first], edge[first], edge[last]


def glazed_bands(beams: Beams, bearings: Floats) -> tuple[Whole, Whole, Floats, Floats]:
    """Point, bearing number, low and high elevation [°] of every traced band, ordered by all of these."""
    tube, at = _crossed(beams, bearings)
    low, high = _elevations(beams.directions[tube].astype(float), np.radians(bearings)[at])
    kept = np.flatnonzero(high > low)
    point, at, low, high = beams.point[tube[kept]].astype(np.int64), at[kept], low[kept], high[kept]
    key = point * len(bearings) + at
    if not len(key):
        return key, at, low, high
    order = np.lexsort((low, key))
    key, low, high = key[order], low[order], high[order]
    # One running maximum for all: each key's elevations are lifted over those of the one before.
    top = np.maximum.accumulate(high + 1000.0 * key) - 1000.0 * key
    begins = np.ones(len(key), dtype=bool)
    begins[1:] = (key[1:] != key[:-1]) | (low[1:] > top[:-1] + CLOSE)
    first = np.flatnonzero(begins)
    low, high, key = low[first], top[np.append(first[1:], len(key)) - 1], key[first]
    wide = np.flatnonzero(high - low > _NARROW)
    point, at = np.divmod(key[wide], len(bearings))
    return point, at, low[wide], high[wide]


def _crossed(beams: Beams, bearings: Floats) -> tuple[Whole, Whole]:
    """Pairs of a tube and a bearing that may run through it."""
    ways = beams.directions.astype(float)
    corner = np.degrees(np.arctan2(ways[..., 0], -ways[..., 1]))
    turn = (corner - corner[:, :1] + 180.0) % 360.0 - 180.0
    low, high = corner[:, 0] + turn.min(axis=1), corner[:, 0] + turn.max(axis=1)
    around = np.concatenate([bearings - 360.0, bearings, bearings + 360.0])
    first, last = np.searchsorted(around, low - 1e-9), np.searchsorted(around, high + 1e-9, "right")
    over = holds_a_pole(ways)
    first, last = np.where(over, 0, first), np.where(over, len(bearings), last)
    count = last - first
    tube = np.repeat(np.arange(len(beams)), count)
    at = np.arange(len(tube)) - np.repeat(np.cumsum(count) - count, count) + first[tube]
    return tube, at % len(bearings)


def holds_a_pole(ways: Floats) -> NDArray[np.bool_]:
    """Whether straight up or straight down lies within tubes with these corner directions (k, 3, 3)."""
    up = np.abs(ways[..., 2])
    # Written out: numpy is slow along an axis of three. Few tubes are steep, and only they are looked at.
    steep = np.flatnonzero(np.minimum(np.minimum(up[:, 0], up[:, 1]), up[:, 2]) > 0.5)
    flat = ways[steep, :, :2] / ways[steep, :, 2:]
    following = np.roll(flat, -1, axis=1)
    side = flat[..., 0] * following[..., 1] - flat[..., 1] * following[..., 0]
    found = np.zeros(len(ways), dtype=bool)
    found[steep] = (side >= -1e-12).all(axis=1) | (side <= 1e-12).all(axis=1)
    return found


def _elevations(ways: Floats, bearings: Floats) -> tuple[Floats, Floats]:
    """Lowest and highest elevation [°] at which tubes with corner directions (q, 3, 3) cross bearings (q,) [rad].

    Between two corners a tube's side is taken as a great circle; an empty range has low > high.
    """
    sine, cosine = np.sin(bearings), np.cos(bearings)
    # By corner, then by tube: numpy is slow along an axis of three.
    x, y, up = np.ascontiguousarray(ways.transpose(2, 1, 0))
    aside, ahead = x * cosine + y * sine, x * sine - y * cosine
    next_aside, next_ahead, next_up = (np.roll(a, -1, axis=0) for a in (aside, ahead, up))
    apart = aside - next_aside
    differ = apart != 0.0
    share = np.where(differ, aside / np.where(differ, apart, 1.0), 0.0)
    forward, upward = ahead + share * (next_ahead - ahead), up + share * (next_up - up)
    met = (aside * next_aside <= 0.0) & differ & (forward > 0.0)
    elevation = np.degrees(np.arctan2(upward, forward))
    low, high = np.where(met, elevation, np.inf).min(axis=0), np.where(met, elevation, -np.inf).max(axis=0)
    # A tube round straight up or down is left on one side only.
    over = holds_a_pole(ways) & met.any(axis=0)
    high = np.where(over & (up[0] > 0.0), 90.0, high)
    return np.where(over & (up[0] < 0.0), -90.0, low), high


def without_glazed(straight: Bands) -> Bands:
    """Straight bands that are exact: what only crosses clear acrylic is left out."""
    glazed = straight.kind == Kind.GLAZED
    return straight.chosen(~glazed) if glazed.any() else straight
