"""The places on one curve that decide how it lies to another: ends, crossings, feet, points in line with a centre."""

import numpy as np

from stackview.arrays import Floats, Whole
from stackview.curves.arcs import Pieces, share_of_angle
from stackview.curves.crossing import crossings
from stackview.curves.near import discs_of, nearest_pairs


def deciding_places(p: Pieces, q: Pieces) -> tuple[Whole, Floats]:
    """Piece and share of every place on ``p`` that may decide, sorted along the curve.

    Ends, crossings, feet of perpendiculars and points in line with a centre, and one place
    between each two of them. What stands on or square to a piece of ``q`` decides only where
    that piece may be the nearest, so that no others are looked at.
    """
    met = crossings(p, q)
    every = np.arange(len(p))
    middle, radius = discs_of(p)
    k, j = nearest_pairs(middle, radius, q)
    found = [(every, np.zeros(len(p))), (met.i, met.u)]
    joint, centre = (k, q.start[j]), (k[q.arc[j]], q.centre[j[q.arc[j]]])
    for own, target in (joint, centre):
        found += [_feet(p, own, target), *_in_line(p, own, target)]
    found += _square(p, q, k, j)
    piece, share = (np.concatenate(column) for column in zip(*found, strict=True))
    order = np.lexsort((share, piece))
    piece, share = piece[order], share[order]
    last = np.append(piece[1:] != piece[:-1], True)
    following = np.where(last, 1.0, np.append(share[1:], 1.0))
    both_piece = np.repeat(piece, 2)
    both_share = np.stack((share, 0.5 * (share + following)), axis=1).reshape(-1)
    return both_piece, both_share


_Places = tuple[Whole, Floats]


def _feet(p: Pieces, piece: Whole, target: Floats) -> _Places:
    """Feet of the perpendiculars from targets (k, 2) to the lines among their pieces (k,)."""
    line = ~p.arc[piece]
    piece, target = piece[line], target[line]
    a, d = p.start[piece], p.end[piece] - p.start[piece]
    share = ((target - a) * d).sum(axis=1) / (d * d).sum(axis=1)
    return _within(piece, share)


def _in_line(p: Pieces, piece: Whole, target: Floats) -> list[_Places]:
    """Points towards and away from targets (k, 2) on the arcs among their pieces (k,)."""
    arc = p.arc[piece]
    piece, target = piece[arc], target[arc]
    spoke = target - p.centre[piece]
    return _both_ways(p, piece, np.arctan2(spoke[:, 1], spoke[:, 0]))


def _square(p: Pieces, q: Pieces, k: Whole, j: Whole) -> list[_Places]:
    """Points on arcs ``k`` of ``p`` at which they run along the lines ``j`` of ``q``."""
    some = p.arc[k] & ~q.arc[j]
    k, d = k[some], (q.end - q.start)[j[some]]
    return _both_ways(p, k, np.arctan2(d[:, 0], -d[:, 1]))


def _both_ways(p: Pieces, arc: Whole, angle: Floats) -> list[_Places]:
    arcs = Pieces(*(getattr(p, name)[arc] for name in Pieces.__slots__))
    return [_within(arc, share_of_angle(arcs, way)) for way in (angle, angle + np.pi)]


def _within(piece: Whole, share: Floats) -> _Places:
    on = (share > 0.0) & (share < 1.0)
    return piece[on], share[on]
