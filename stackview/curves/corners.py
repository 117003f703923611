"""Polygons with rounded corners, and circles, as exact curves."""

import numpy as np

from stackview.arrays import Floats
from stackview.curves.arcs import Path, without_points

QUARTER = float(np.tan(np.pi / 8))
"""Bulge of a quarter turn."""


def circle(radius: float) -> Path:
    """A circle of ``radius`` [mm] about the origin, in four quarters."""
    xs = ((radius, 0.0), (0.0, radius), (-radius, 0.0), (0.0, -radius))
    return Path(np.array([(x, y, QUARTER) for x, y in xs]))


def rounded_polygon(corners: Floats, radius: float) -> Path:
    """Round the corners (n, 2) of a polygon, each by a tangent arc of ``radius`` [mm].

    The arc begins r·tan(turn/2) before the corner and sweeps the turn (plane geometry).
    """
    n = len(corners)
    if radius <= 0.0:
        return Path(np.column_stack((corners, np.zeros(n))))
    ahead = np.roll(corners, -1, axis=0) - corners
    size = np.hypot(ahead[:, 0], ahead[:, 1])
    ahead /= size[:, None]
    back = np.roll(ahead, 1, axis=0)
    turn = np.arctan2(back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0], (back * ahead).sum(axis=1))
    cut = (radius * np.tan(0.5 * turn))[:, None]
    into = np.column_stack((corners - back * cut, np.tan(0.25 * turn)))
    out = np.column_stack((corners + ahead * cut, np.zeros(n)))
    rows = np.stack((into, out), axis=1).reshape(-1, 3)
    return without_points(rows)
