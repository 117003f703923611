"""Straight-sided shapes that hold a curve, or that it holds, so that what is kept clear of them is clear of it."""

import numpy as np

from stackview.arrays import Floats
from stackview.curves.arcs import Path, pieces_of

_GREATEST = 0.5 * np.pi
"""Greatest part of a circle that one facet stands for [rad]."""


def outer_facets(path: Path, error: float) -> Floats:
    """Corners (k, 2) of a shape that holds the curve and reaches beyond it by at most ``error`` [mm].

    Straight sides are kept exactly. An arc that bulges outwards is wrapped in tangents: over an angle φ
    of radius r they meet at r/cos(φ/2). One that bulges inwards is cut short by chords, which stand off
    it by r(1 − cos(φ/2)).

    >>> from stackview.curves.corners import circle
    >>> from stackview.curves.arcs import bounds
    >>> np.abs(outer_facets(circle(50.0), 0.01)).max(axis=0).round(9).tolist()
    [50.0, 50.0]
    """
    return _facets(path, error, outside=True)


def inner_facets(path: Path, error: float) -> Floats:
    """Corners (k, 2) of a shape that the curve holds, and that falls short of it by at most ``error`` [mm]."""
    return _facets(path, error, outside=False)


def _facets(path: Path, error: float, *, outside: bool) -> Floats:
    p = pieces_of(path)
    corners: list[Floats] = []
    for k in range(len(p)):
        corners.append(p.start[k : k + 1])
        if not p.arc[k]:
            continue
        radius, sweep, first = float(p.radius[k]), float(p.sweep[k]), float(p.first[k])
        tangents = (sweep > 0.0) == outside
        slack = radius / (radius + error) if tangents else 1.0 - min(error / radius, 1.0)
        step = min(2.0 * np.arccos(slack), _GREATEST)
        # a hair of slack, so that an arc that needs exactly k facets does not get one more
        count = max(int(np.ceil(abs(sweep) / step - 1e-9)), 1)
        if tangents:
            angles = first + sweep * (np.arange(count) + 0.5) / count
            reach = radius / np.cos(0.5 * abs(sweep) / count)
        else:
            angles = first + sweep * np.arange(1, count) / count
            reach = radius
        corners.append(p.centre[k] + reach * np.column_stack((np.cos(angles), np.sin(angles))))
    made = np.concatenate(corners)
    made.setflags(write=False)
    return made
