"""Which pieces of a curve can be the nearest to a place: runs of pieces are looked at before single ones.

A curve's pieces follow each other, so that sixteen in a row lie close together, and sixteen such
runs too. A circle stands around each run; a run whose circle begins farther off than another one
ends holds no nearest piece, and is left out whole. For n places by m pieces that takes about
n log m, where looking at all takes n m.
"""

from functools import lru_cache

import numpy as np

from stackview.arrays import Floats, Whole, read_only
from stackview.curves.arcs import Pieces, piece_bounds
from stackview.curves.ranges import ranges

_RUN = 16
"""Pieces in a run, runs in a longer run."""


def nearest_pairs(centre: Floats, reach: Floats, q: Pieces) -> tuple[Whole, Whole]:
    """Pairs of a disc and a piece that may be the nearest to a place in it: (k,) discs in order, (k,) pieces.

    Parameters
    ----------
    centre, reach : (n, 2) and (n,) discs [mm]; a place alone has a reach of 0
    """
    pairs = few_nearest_pairs(centre, reach, q, len(centre) * len(q))
    assert pairs is not None
    return pairs


def few_nearest_pairs(centre: Floats, reach: Floats, q: Pieces, most: int) -> tuple[Whole, Whole] | None:
    """The pairs of :func:`nearest_pairs`, or None where more than ``most`` would have to be looked at at once."""
    levels = circles_of(q)
    across = len(levels[0][1])
    i, j = np.divmod(np.arange(len(centre) * across), across)
    for below, (middle, radius) in enumerate(levels, start=1):
        x, y = centre[i, 0] - middle[j, 0], centre[i, 1] - middle[j, 1]
        # Only a sieve: the plain root is quicker than hypot, and good to the slack below.
        away = np.sqrt(x * x + y * y)
        first = np.flatnonzero(np.append(True, i[1:] != i[:-1])) if len(i) else i
        least = np.minimum.reduceat(away + radius[j], first)
        keep = away - radius[j] <= (least[i] + 2.0 * reach[i]) * (1.0 + 1e-12)
        i, j = i[keep], j[keep]
        if below < len(levels):
            many = np.minimum(_RUN, len(levels[below][1]) - _RUN * j)
            if int(many.sum()) > most:
                return None
            i, j = np.repeat(i, many), ranges(_RUN * j, many)
    return i, j


@lru_cache(maxsize=512)
def circles_of(q: Pieces) -> tuple[tuple[Floats, Floats], ...]:
    """Circles, middle (n, 2) and radius (n,) [mm]: around the longest runs first, around each piece last."""
    low, high = piece_bounds(q)
    levels = [_around(low, high)]
    while len(low) > 2 * _RUN:
        starts = np.arange(0, len(low), _RUN)
        low, high = np.minimum.reduceat(low, starts), np.maximum.reduceat(high, starts)
        levels.append(_around(low, high))
    return tuple(levels[::-1])


def _around(low: Floats, high: Floats) -> tuple[Floats, Floats]:
    middle, radius = 0.5 * (low + high), 0.5 * np.hypot(*(high - low).T)
    read_only((middle, radius))
    return middle, radius
