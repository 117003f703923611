"""Smooth curves as runs of circular arcs (biarcs), within a stated distance.

A biarc joins two points with given directions by two arcs that meet without a kink (Bolton,
"Biarc curves", Computer-Aided Design 7, 1975). Points are complex numbers, x + iy.
"""

import cmath
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.curves.arcs import pieces_between
from stackview.curves.fit import distances

Vertex = tuple[float, float, float]
_DEEPEST = 20
_SAMPLES = 12
"""Points of the curve at which each biarc is measured; its error is smooth between them."""


@dataclass(frozen=True, slots=True)
class Smooth:
    """A smooth curve: its points and its unit directions for t from 0 to 1."""

    point: Callable[[float], complex]
    direction: Callable[[float], complex]


def biarcs(
    curve: Smooth,
    tolerance: float,
    *,
    most: int,
    leaving: complex | None = None,
    arriving: complex | None = None,
) -> list[Vertex]:
    """Arcs along a curve, none farther than ``tolerance`` from it.

    Parameters
    ----------
    leaving, arriving : unit directions to take at its two ends in place of its own, where a
        neighbour's differs by a hair and no kink is meant

    Returns
    -------
    list of (x, y, bulge)
        the start of every arc; the curve's end is left to what follows. Arcs are measured at
        :data:`_SAMPLES` points to half the tolerance, since the farthest point may lie between two.

    Raises
    ------
    OverflowError
        more than ``most`` arcs would be needed

    >>> def spoke(t):
    ...     return cmath.exp(0.5j * math.pi * t)
    >>> quarter = Smooth(spoke, lambda t: 1j * spoke(t))
    >>> arcs = biarcs(quarter, 1e-6, most=100)
    >>> [round(bulge, 9) for _, _, bulge in arcs] == [round(math.tan(math.pi / 16), 9)] * 2
    True
    """
    made: list[Vertex] = []
    first = curve.direction(0.0) if leaving is None else leaving
    last = curve.direction(1.0) if arriving is None else arriving
    parts = [(0.0, 1.0, 0)]
    while parts:
        low, high, depth = parts.pop()
        ways = (first if low == 0.0 else curve.direction(low), last if high == 1.0 else curve.direction(high))
        arcs = _biarc(curve.point(low), curve.point(high), *ways)
        if depth < _DEEPEST and not _near(curve.point, low, high, arcs, tolerance / 2):
            middle = (low + high) / 2
            parts += [(middle, high, depth + 1), (low, middle, depth + 1)]
            continue
        made += [(start.real, start.imag, bulge) for start, _, bulge in arcs]
        if len(made) > most:
            raise OverflowError
    return made


def _dot(first: complex, second: complex) -> float:
    return (first * second.conjugate()).real


def _biarc(
    start: complex, end: complex, leaving: complex, arriving: complex
) -> list[tuple[complex, complex, float]]:
    """One or two arcs (start, end, bulge) from ``start`` along ``leaving`` to ``end`` along ``arriving``.

    With v from start to end and t1, t2 the two directions, both tangents are cut at the length
    d > 0 with 2(1 − t1·t2)·d² + 2v·(t1 + t2)·d − v·v = 0; the arcs meet at (p1 + p2 + d (t1 − t2)) / 2.
    """
    across = end - start
    if across == 0:
        return []
    both = _dot(across, leaving + arriving)
    bend = 2 * (1 - _dot(leaving, arriving))
    square = _dot(across, across)
    if bend < 1e-12:
        length = square / (2 * both) if both > 0 else 0.0
    else:
        length = (-both + math.sqrt(both * both + bend * square)) / bend
    joint = (start + end + length * (leaving - arriving)) / 2
    first, second = joint - start, end - joint
    if first == 0 or second == 0:
        return [(start, end, 0.0)]
    # an arc's sweep is twice the angle between its chord and the tangent at either end
    turned = cmath.phase(first / leaving), cmath.phase(arriving / second)
    return [
        (start, joint, _bulge(turned[0], abs(first))),
        (joint, end, _bulge(turned[1], abs(second))),
    ]


def _bulge(half_sweep: float, chord: float) -> float:
    bulge = math.tan(half_sweep / 2)
    return 0.0 if abs(bulge) * chord / 2 < 1e-10 else bulge


def _near(
    point: Callable[[float], complex],
    low: float,
    high: float,
    arcs: list[tuple[complex, complex, float]],
    tolerance: float,
) -> bool:
    if any(abs(bulge) > 1 for _, _, bulge in arcs):
        return False
    samples = [point(low + (high - low) * (index + 0.5) / _SAMPLES) for index in range(_SAMPLES)]
    if not arcs:
        # A curve that ends where it begins: a loop, or drawn so small that it is a point, which no halving ends.
        return all(abs(sample - point(low)) <= tolerance for sample in samples)
    start, end, bulge = zip(*arcs, strict=True)
    pieces = pieces_between(_xy(start), _xy(end), np.array(bulge))
    return bool((distances(_xy(samples), pieces) <= tolerance).all())


def _xy(points: Sequence[complex]) -> NDArray[np.float64]:
    return np.array([(point.real, point.imag) for point in points])
