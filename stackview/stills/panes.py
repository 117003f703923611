"""Light on its way through panes: how much of it passes straight on."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Singles
from stackview.solids.rays import Target


@dataclass(frozen=True, slots=True, eq=False)
class Panes:
    """Bodies that light passes: their triangles, normals ``flat`` (s, 3), and ``passing`` (s,).

    ``passing`` is the share that goes straight on through the whole body that a triangle bounds.
    """

    target: Target
    flat: Singles
    passing: Singles


_MOST_CROSSINGS = 16


def crossed(panes: Panes, origins: Singles, directions: Singles, reach: Singles) -> tuple[Singles, Singles]:
    """Share of light (n,) left at the end of each way, and how far the end lies inside a body.

    ``reach`` (n,) is the length of the way [mm]. The second result (n,) is the way inside the
    one body that holds the end, 0 where the end is in air [mm]. A body is wholly crossed where
    the ray leaves it; starting inside one counts as half of it.
    """
    count = len(directions)
    share, start = np.ones(count, np.float32), np.zeros(count, np.float32)
    entered = np.full(count, np.nan, np.float32)
    active = np.arange(count if panes.target.scene is not None else 0)
    for _ in range(_MOST_CROSSINGS):
        at = origins[active] + directions[active] * start[active, None]
        hits = panes.target.nearest(at, directions[active])
        distance = hits.distance + start[active]
        met = distance < reach[active]
        active, distance, triangle = active[met], distance[met], hits.triangle[met]
        if len(active) == 0:
            break
        entering = (directions[active] * panes.flat[triangle]).sum(axis=1) < 0
        passing = panes.passing[triangle]
        known = np.isfinite(entered[active])
        share[active] *= np.where(entering, 1.0, np.where(known, passing, np.sqrt(passing)))
        entered[active] = np.where(entering, distance, np.float32(np.nan))
        start[active] = distance + np.float32(0.01)
    return share, np.nan_to_num(reach - entered, nan=0.0)
