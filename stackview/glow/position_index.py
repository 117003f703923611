"""Guth's position index: how much less a glare source disturbs, the further it is off the line of sight.

Above the line of sight: the closed formula of Guth's data (IES; from memory), which lies within
−8 % to +0.5 % of the values of CIE 117 Table 4.1 that were at hand. A smaller index means more
glare, so it errs to the careful side. Below the line of sight Guth's data do not reach; there the
relation of Iwata and Tokura (1997, "Position index for a glare source located below the line of
vision"; from memory) is taken.
"""

import numpy as np

from stackview.arrays import Floats

GREATEST_INDEX = 16.0
"""Greatest index given: about where Table 4.1 of CIE 117 ends (16.2, from memory)."""
_STEEP = 0.6
"""Ratio of distance off the line to distance along it at which Iwata and Tokura's slope changes."""
_FURTHEST = 3.0
"""Greatest such ratio of their relation."""


def position_index(across: Floats, up: Floats, along: Floats) -> Floats:
    """Position index p of sources at places relative to the eye; 1 on the line of sight.

    Parameters
    ----------
    across, up, along : sideways, above (+) or below (−) the line of sight, and along it, in any
        one unit and of any one shape (T, H and R of CIE 117)

    Returns
    -------
    p, of the same shape; infinite level with the eye or behind it, where a source cannot glare

    >>> position_index(np.array(0.0), np.array(0.0), np.array(1.0)).item()
    1.0
    """
    across, up, along = (np.asarray(value, dtype=np.float64) for value in (across, up, along))
    before = along > 0
    distance = np.where(before, along, 1.0)
    off = np.hypot(across, up)
    above = above_line(
        np.degrees(np.arctan2(np.abs(across), np.maximum(up, 0.0))), np.degrees(np.arctan2(off, distance))
    )
    index = np.where(off == 0.0, 1.0, np.where(up >= 0, above, below_line(off / distance)))
    return np.asarray(np.where(before, np.minimum(index, GREATEST_INDEX), np.inf))


def above_line(alpha: Floats, beta: Floats) -> Floats:
    """Guth's index of a source level with the line of sight or above it.

    p = exp[(35.2 − 0.31889α − 1.22e^(−2α/9))·10⁻³β + (21 + 0.26667α − 0.002963α²)·10⁻⁵β²]
    (IES, after Guth; from memory).

    Parameters
    ----------
    alpha : from the vertical, of the plane through the source and the line of sight [°], 0 to 90
    beta : between the line of sight and the line to the source [°], 0 to under 90
    """
    first = 35.2 - 0.31889 * alpha - 1.22 * np.exp(-2.0 * alpha / 9.0)
    second = 21.0 + 0.26667 * alpha - 0.002963 * alpha**2
    return np.asarray(np.exp(first * 1e-3 * beta + second * 1e-5 * beta**2))


def below_line(ratio: Floats) -> Floats:
    """Index of a source below the line of sight: 1 + 0.8·r, from r = 0.6 on 1 + 1.2·r, r at most 3.

    ``ratio`` r is the distance off the line of sight over the distance along it (Iwata and
    Tokura 1997, from memory).
    """
    ratio = np.minimum(ratio, _FURTHEST)
    return np.asarray(1.0 + np.where(ratio < _STEEP, 0.8, 1.2) * ratio)
