"""Light points that sit inside a part: the strip does not pass where it is drawn."""

import numpy as np

from stackview.light.points import LightPoints
from stackview.sight.bands import taken_at
from stackview.sight.crossings import beneath
from stackview.sight.scene import Scene


def buried(scene: Scene, points: LightPoints) -> dict[str, int]:
    """Number of light points inside each part that holds any.

    Straight down from a point inside a closed body, one more of its faces is left than entered.
    """
    found: dict[str, int] = {}
    places, everything = taken_at(points), np.arange(len(scene.triangles))
    at, below, turned_to = beneath(scene, everything, places)
    left = np.zeros((len(places), len(scene.names)))
    np.add.at(left, (at, scene.solid_of_triangle[below]), np.where(turned_to, -1.0, 1.0))
    for solid in np.nonzero(left > 0.5)[1].tolist():
        found[scene.names[solid]] = found.get(scene.names[solid], 0) + 1
    return found
