"""What the lamp stands on, where it comes between a light point and an eye."""

import numpy as np
from numpy.typing import NDArray

from stackview.description.lamp import Surface


def behind_surface(
    places: NDArray[np.float64], eyes: NDArray[np.float64], surface: Surface | None
) -> NDArray[np.bool_]:
    """Whether the surface hides each line from ``places`` (…, 3) to ``eyes`` (…, 3).

    The surface is the plane z = 0 within its extent. A line is blocked where it passes down
    through that; one that passes beyond the edge is not.
    """
    below = eyes[..., 2] < 0
    if surface is None or not below.any():
        return np.zeros(np.broadcast_shapes(places.shape, eyes.shape)[:-1], dtype=bool)
    drop = places[..., 2] - eyes[..., 2]
    share = np.where(below, places[..., 2] / np.where(below, drop, 1.0), 0.0)
    x = places[..., 0] + share * (eyes[..., 0] - places[..., 0]) + surface.at[0]
    y = places[..., 1] + share * (eyes[..., 1] - places[..., 1]) + surface.at[1]
    if len(surface.size) == 1:
        on = np.hypot(x, y) <= surface.size[0] / 2
    else:
        on = (np.abs(x) <= surface.size[0] / 2) & (np.abs(y) <= surface.size[1] / 2)
    return np.asarray(below & on)
