"""Light points that sit inside a part: the strip does not pass where it is drawn."""

import numpy as np

from stackview.light.points import LightPoints
from stackview.sight.bands import taken_at
from stackview.sight.crossings import beneath
from stackview.sight.scene import Scene, within_plan


def buried(scene: Scene, points: LightPoints) -> dict[str, int]:
    """Number of light points inside each part that holds any.

    Straight down from a point inside a closed body, one more of its faces is left than entered.
    """
    found: dict[str, int] = {}
    places = taken_at(points)
    candidates = (
        within_plan(scene, places.min(axis=0), places.max(axis=0)) if len(places) else np.zeros(0, int)
    )
    for place in places:
        below, turned_to = beneath(scene, candidates, place)
        left = np.bincount(
            scene.solid_of_triangle[below], weights=np.where(turned_to, -1.0, 1.0), minlength=len(scene.names)
        )
        for solid in np.flatnonzero(left > 0.5).tolist():
            found[scene.names[solid]] = found.get(scene.names[solid], 0) + 1
    return found
