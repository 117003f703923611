"""Which pieces of a curve can be the nearest to a place: runs of pieces are looked at before single ones.

A curve's pieces follow each other, so that sixteen in a row lie close to the chord from the first to the last, and
sixteen such runs too. All of a run lies within its thickness of its chord; a run whose chord is farther off than
another one's, by more than both thicknesses, holds no nearest piece, and is left out whole. For n places by m pieces
that takes about n log m, where looking at all takes n m. A circle about a run says far less than its chord: of a fine
curve at a distance D, circles of size r leave all that lies within √(8Dr) of the nearest place, and r goes down with
the pieces' length, thicknesses with its square.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole, read_only
from stackview.curves.arcs import Pieces, piece_bounds
from stackview.curves.ranges import ranges

RUN = 16
"""Pieces in a run, runs in a longer run."""
_SLACK = 1e-9
"""Farther than that a piece has to be than another one to be left out, for rounding [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Chords:
    """Runs of pieces in order: all of each lies within ``thick`` of the chord from (x, y) by (dx, dy), (n,) each [mm].

    per : one over the chord's length squared, nought for a chord of no length
    """

    x: Floats
    y: Floats
    dx: Floats
    dy: Floats
    per: Floats
    thick: Floats

    def __post_init__(self) -> None:
        read_only(getattr(self, name) for name in self.__slots__)

    def __len__(self) -> int:
        return len(self.x)

    def away(self, x: Floats, y: Floats, j: Whole) -> Floats:
        """Distance (k,) of each place from the chord ``j`` that goes with it."""
        wx, wy = x - self.x.take(j), y - self.y.take(j)
        dx, dy = self.dx.take(j), self.dy.take(j)
        share = wx * dx
        share += wy * dy
        share *= self.per.take(j)
        np.clip(share, 0.0, 1.0, out=share)
        wx -= share * dx
        wy -= share * dy
        # Only a sieve: the plain root is quicker than hypot, and good to the slack.
        return np.asarray(np.sqrt(wx * wx + wy * wy))

    def nearest(self, i: Whole, away: Floats, j: Whole, reach: Floats | None = None) -> NDArray[np.bool_]:
        """Which pairs may hold what is nearest to disc ``i`` of pairs in order; without ``reach`` discs are places."""
        if not len(i):
            return np.zeros(0, dtype=bool)
        thick = self.thick.take(j)
        first = np.flatnonzero(np.append(True, i[1:] != i[:-1]))
        least = np.minimum.reduceat(away + thick, first)
        many = np.diff(np.append(first, len(i)))
        if reach is not None:
            least += 2.0 * reach[i[first]]
        return np.asarray(away - thick <= np.repeat(least + _SLACK, many))


def nearest_pairs(centre: Floats, reach: Floats, q: Pieces) -> tuple[Whole, Whole]:
    """Pairs of a disc and a piece that may be the nearest to a place in it: (k,) discs in order, (k,) pieces.

    Parameters
    ----------
    centre, reach : (n, 2) and (n,) discs [mm]; a place alone has a reach of 0
    """
    pairs = few_nearest_pairs(centre, reach, chords_of(q), len(centre) * len(q))
    assert pairs is not None
    return pairs


def few_nearest_pairs(
    centre: Floats, reach: Floats, levels: tuple[Chords, ...], most: int
) -> tuple[Whole, Whole] | None:
    """Pairs of a disc and a run of the last of the levels, or None where more than ``most`` are to be looked at at once."""
    across = len(levels[0])
    i, j = np.divmod(np.arange(len(centre) * across), across)
    for below, chords in enumerate(levels, start=1):
        away = chords.away(centre[:, 0].take(i), centre[:, 1].take(i), j)
        keep = np.flatnonzero(chords.nearest(i, away, j, reach))
        i, j = i[keep], j[keep]
        if below < len(levels):
            many = members(j, len(levels[below]))
            if int(many.sum()) > most:
                return None
            i, j = np.repeat(i, many), ranges(RUN * j, many)
    return i, j


def members(j: Whole, below: int) -> Whole:
    """Of how many of the ``below`` runs of the next level the runs ``j`` are made; the first is number 16 ``j``."""
    return np.minimum(RUN, below - RUN * j)


def discs_of(q: Pieces) -> tuple[Floats, Floats]:
    """Discs around each piece, middle (n, 2) and radius (n,) [mm]."""
    low, high = piece_bounds(q)
    return 0.5 * (low + high), 0.5 * np.hypot(*(high - low).T)


@lru_cache(maxsize=512)
def chords_of(q: Pieces) -> tuple[Chords, ...]:
    """Chords of the longest runs first, of each piece last."""
    # All of an arc, however long, lies within 2r sin²(sweep/4) of its chord: that is how far its middle is from it.
    thick = np.where(q.arc, 2.0 * q.radius * np.sin(0.25 * q.sweep) ** 2, 0.0)
    start, end = q.start, q.end
    levels = [_chords(start, end, thick)]
    while len(start) > 2 * RUN:
        first = np.arange(0, len(start), RUN)
        own = np.arange(len(start)) // RUN
        last = np.append(first[1:], len(start)) - 1
        longer = _chords(start[first], end[last], np.zeros(len(first)))
        off = np.maximum(*(longer.away(ends[:, 0], ends[:, 1], own) for ends in (start, end)))
        thick = np.maximum.reduceat(off + thick, first)
        start, end = start[first], end[last]
        levels.append(_chords(start, end, thick))
    return tuple(levels[::-1])


def _chords(start: Floats, end: Floats, thick: Floats) -> Chords:
    dx, dy = (end - start).T
    square = dx * dx + dy * dy
    per = np.where(square > 0.0, 1.0 / np.where(square > 0.0, square, 1.0), 0.0)
    return Chords(*(np.ascontiguousarray(column) for column in (*start.T, dx, dy, per, thick)))
