"""How far a lamp can lean before it falls, and how a pendant hangs."""

from math import atan2, degrees, hypot

import numpy as np
from numpy.typing import NDArray


def tip_angle(half_base: float, height: float) -> float:
    """Tilt at which a lamp falls over [°]: atan(half base / height of the centre of mass).

    >>> round(tip_angle(60.0, 80.0), 4)
    36.8699
    """
    return degrees(atan2(half_base, height))


def nearest_edge(corners: NDArray[np.float64], point: tuple[float, float]) -> tuple[float, float]:
    """Distance [mm] from a point to the nearest side of a convex polygon, negative outside it.

    Parameters
    ----------
    corners : (n, 2) counter-clockwise [mm]

    Returns
    -------
    distance and the bearing [°] in which that side lies, 0 front and 90 right

    >>> square = np.array([[-60.0, -60.0], [60.0, -60.0], [60.0, 60.0], [-60.0, 60.0]])
    >>> nearest_edge(square, (10.0, 0.0))
    (50.0, 90.0)
    """
    side = np.roll(corners, -1, axis=0) - corners
    length = np.hypot(side[:, 0], side[:, 1])
    keep = length > 0.0
    outwards = np.column_stack((side[:, 1], -side[:, 0]))[keep] / length[keep, None]
    distance = ((corners[keep] - np.array(point)) * outwards).sum(axis=1)
    worst = int(np.argmin(distance))
    x, y = outwards[worst].tolist()
    return float(distance[worst]), degrees(atan2(x, -y)) % 360.0


def hanging_angle(offset: tuple[float, float], below: float) -> float:
    """Tilt [°] of a body hung from one point, its centre of mass ``offset`` aside and ``below`` [mm].

    At rest the centre of mass is straight under the point (statics), so the tilt is
    atan(offset/below).

    >>> round(hanging_angle((3.0, 4.0), 50.0), 4)
    5.7106
    """
    return degrees(atan2(hypot(*offset), below))
