"""Samples of directions spread over the directions that they stand for, no flux lost or made.

A bell curve round each sample is laid out as a few sub-samples of equal flux, at the radii that
part the curve into equal shares (r = σ√(−2 ln(1 − q)), Rayleigh's distribution) and turned by the
golden angle from one to the next, so that no two samples' patterns agree.
"""

from collections.abc import Iterator

import numpy as np

from stackview.arrays import Floats

_GOLDEN = np.pi * (3.0 - np.sqrt(5.0))
_MOST = 24
"""Sub-samples of one sample, at most."""
_ENOUGH = 600_000
"""Sub-samples of all samples together, about."""
_POINTS = 4
"""Places at which a window of bearing is taken, for each plane."""


def spread_out(unit: Floats, sigma: float) -> Iterator[tuple[Floats, float]]:
    """Sub-samples of directions (n, 3), a set at a time, with the share of flux that each set has.

    Parameters
    ----------
    unit : (n, 3) unit vectors; sigma : standard deviation of the bell curve [°], 0 for none
    """
    count = int(np.clip(_ENOUGH // max(len(unit), 1), 1, _MOST))
    if not sigma > 0 or count == 1:
        yield unit, 1.0
        return
    level = np.abs(unit[:, 2:]) < 0.9
    aside = np.cross(unit, np.where(level, [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]))
    aside /= np.linalg.norm(aside, axis=1, keepdims=True)
    other = np.cross(unit, aside)
    first = np.arange(len(unit)) * (np.pi / 3.0 * np.sqrt(2.0))
    for number in range(count):
        away = np.radians(sigma) * np.sqrt(-2.0 * np.log1p(-(number + 0.5) / count))
        turn = (first + number * _GOLDEN)[:, None]
        yield np.cos(away) * unit + np.sin(away) * (np.cos(turn) * aside + np.sin(turn) * other), 1.0 / count


def plane_shares(planes: Floats, width: float) -> Floats:
    """Matrix (p, p) that shares each plane's flux out evenly over ``width`` [°] of bearing about it.

    Each column sums to one. The identity where the window is narrower than the planes' steps.
    """
    count = len(planes)
    around = np.append(planes, planes[0] + 360.0)
    if width <= float(np.diff(around).min()):
        return np.eye(count)
    points = _POINTS * count
    window = min(width, 360.0) * ((np.arange(points) + 0.5) / points - 0.5)
    at = (planes[:, None] + window - planes[0]) % 360.0 + planes[0]
    low = np.clip(np.searchsorted(around, at, side="right") - 1, 0, count - 1)
    across = (at - around[low]) / (around[low + 1] - around[low])
    shares = np.zeros((count, count))
    of = np.broadcast_to(np.arange(count)[:, None], at.shape)
    np.add.at(shares, (low, of), (1.0 - across) / points)
    np.add.at(shares, ((low + 1) % count, of), across / points)
    return shares
