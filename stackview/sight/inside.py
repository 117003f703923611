"""Light points that sit inside a part: nothing true can be said of what shows of them."""

import numpy as np

from stackview.light.points import LightPoints
from stackview.sight.bands import taken_at
from stackview.sight.crossings import beneath
from stackview.sight.scene import Scene

_TOGETHER = 16
"""Light points looked at together."""


def buried(scene: Scene, points: LightPoints) -> dict[str, int]:
    """Number of light points inside each part that holds any.

    Straight down from a point inside a closed body, one more of its faces is left than entered.
    """
    places = taken_at(points)
    left = np.zeros((len(places), len(scene.names)))
    # Neighbours on a strip lie in a small box, which few triangles lie beneath.
    for start in range(0, len(places), _TOGETHER):
        run = places[start : start + _TOGETHER]
        near = scene.within_plan(np.arange(len(scene.triangles)), run.min(axis=0), run.max(axis=0))
        at, below, turned_to = beneath(scene, near, run)
        np.add.at(left, (at + start, scene.solid_of_triangle[below]), np.where(turned_to, -1.0, 1.0))
    found: dict[str, int] = {}
    for solid in np.nonzero(left > 0.5)[1].tolist():
        found[scene.names[solid]] = found.get(scene.names[solid], 0) + 1
    return found
