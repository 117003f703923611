"""Cameras for the named views: parallel ones, one that goes round, and one in a named eye."""

import numpy as np
from numpy.typing import NDArray

from stackview.sight.camera import Camera, axes, frame_points

ROUND = 48
"""Places around the axis that a turning lamp is taken to fill."""

_Room = tuple[float, float, float, float]
"""Left, top, right and bottom of a part of a picture [px], from its upper left corner."""


def parallel_view(
    points: NDArray[np.float64], bearing: float, elevation: float, size: tuple[int, int], room: _Room
) -> Camera:
    """Set a camera in parallel projection so that points (n, 3) [mm] just fill a part of the picture."""
    right, up, _ = axes(bearing, elevation)
    x, y = points @ right, points @ up
    left, top, stop, bottom = room
    scale = min((stop - left) / max(float(np.ptp(x)), 1.0), (bottom - top) / max(float(np.ptp(y)), 1.0))
    middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
    extent = float(np.linalg.norm(np.ptp(points, axis=0))) + 1.0
    width, height = size
    across = (float(x.min()) + float(x.max())) / 2.0 - ((left + stop) / 2.0 - width / 2.0) / scale
    upwards = (float(y.min()) + float(y.max())) / 2.0 + ((top + bottom) / 2.0 - height / 2.0) / scale
    target = middle + (across - middle @ right) * right + (upwards - middle @ up) * up
    distance = 2.0 * extent
    return Camera(
        bearing=bearing,
        elevation=elevation,
        distance=distance,
        target=(float(target[0]), float(target[1]), float(target[2])),
        field_of_view=float(np.degrees(2.0 * np.arctan(height / scale / 2.0 / distance))),
        size=size,
        parallel=True,
    )


def turning_view(
    points: NDArray[np.float64], bearing: float, elevation: float, size: tuple[int, int]
) -> Camera:
    """Frame all that points (n, 3) [mm] sweep as the lamp turns: the same at every bearing but turned."""
    reach, height = np.hypot(points[:, 0], points[:, 1]), points[:, 2]
    levels = np.unique(np.round(height, 1))
    farthest = np.array([reach[np.abs(height - level) <= 0.06].max() for level in levels])
    # The places turn with the eye, so that every frame has the very same distance and target.
    turn = np.radians(bearing) + 2.0 * np.pi * np.arange(ROUND) / ROUND
    ring = np.stack([np.sin(turn), -np.cos(turn)], axis=1)
    swept = np.concatenate(
        [
            np.repeat(farthest, ROUND)[:, None] * np.tile(ring, (len(levels), 1)),
            np.repeat(levels, ROUND)[:, None],
        ],
        axis=1,
    )
    return frame_points(swept, bearing=bearing, elevation=elevation, size=size)
