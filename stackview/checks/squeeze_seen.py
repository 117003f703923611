"""From which elevations the inner edge of a joint is seen, where squeezed-out glue shows."""

from dataclasses import dataclass

import numpy as np
import shapely

from stackview.checks.joints import Joint
from stackview.sight.bands import Kind, bands_from, even_bearings
from stackview.sight.scene import Scene, edges_for
from stackview.solids.arcs import Array

_OUT = 0.2
"""How far from the edge and from the joint the glue is looked at [mm]."""
_PLACES = 4
"""Places along an inner edge, and bearings from each, at which is looked."""
_BEARINGS = 16


@dataclass(frozen=True, slots=True)
class Shows:
    """Lowest and highest elevation [°] from which an edge shows, bare or through clear acrylic."""

    low: float
    high: float
    glazed: bool
    """Only through clear acrylic."""


def shows(scene: Scene, joint: Joint) -> Shows | None:
    """Where the joint's inner edges show; None where opaque or veiling parts hide them."""
    places, inwards = _beads(joint)
    if not len(places):
        return None
    edges = edges_for(scene, places, inwards)
    _, _, low, high, kind, _, _ = bands_from(
        scene, edges, places, inwards, np.radians(even_bearings(_BEARINGS))
    )
    for kinds, glazed in (((Kind.BARE,), False), ((Kind.GLAZED,), True)):
        chosen = np.isin(kind, kinds)
        if chosen.any():
            return Shows(float(np.min(low[chosen])), float(np.max(high[chosen])), glazed)
    return None


def _beads(joint: Joint) -> tuple[Array, Array]:
    """Places of squeezed-out glue (n, 3) and the unit vectors from the edge into the opening (n, 3)."""
    places, inwards = [], []
    for edge in (edge for strip in joint.strips for edge in strip.open_edges):
        start, run = edge, np.roll(edge, -1, axis=0) - edge
        size = np.hypot(run[:, 0], run[:, 1])
        reach = np.cumsum(size)
        wanted = (np.arange(_PLACES) + 0.5) / _PLACES * reach[-1]
        at = np.searchsorted(reach, wanted)
        share = 1.0 - (reach[at] - wanted) / size[at]
        out = np.column_stack((-run[at, 1], run[at, 0])) / size[at, None]
        # Into the opening, whichever way round the edge runs.
        out = -out if _runs_clockwise(edge) else out
        middle = start[at] + share[:, None] * run[at] + _OUT * out
        below = ~shapely.contains_xy(joint.carries, middle[:, 0], middle[:, 1])
        height = joint.height + np.where(below, -_OUT, _OUT)
        places.append(np.column_stack((middle, height)))
        inwards.append(np.column_stack((out, np.zeros(len(out)))))
    if not places:
        return np.zeros((0, 3)), np.zeros((0, 3))
    return np.concatenate(places), np.concatenate(inwards)


def _runs_clockwise(edge: Array) -> bool:
    x, y = edge.T
    return bool((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() < 0.0)
