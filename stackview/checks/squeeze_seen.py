"""From which elevations the inner edge of a joint is seen, where squeezed-out glue shows."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.sight.bands import Kind, bands_from, even_bearings, sorted_bearings
from stackview.sight.clear_bodies import ClearBodies, clear_bodies
from stackview.sight.edges import edges_for
from stackview.sight.paths import followed
from stackview.sight.scene import Scene, scene_of
from stackview.stack.joints import Joint
from stackview.stack.placed import Placed

_OUT = 0.2
"""How far from the edge and from the joint the glue is looked at [mm]."""
_PLACES = 4
"""Places along an inner edge, and bearings from each, at which is looked."""
_BEARINGS = 16
_RAYS = (4.0, 2.0)
"""Steps in bearing and elevation of the rays that are traced through clear acrylic [°]."""
_FARTHER = 8.0
"""How many times as far up and down is looked next, where the parts near to a joint do not settle what shows."""


@dataclass(frozen=True, slots=True)
class Shows:
    """Lowest and highest elevation [°] from which an edge shows: bare, or through clear acrylic to about 2°."""

    low: float
    high: float
    glazed: bool
    """Only through clear acrylic."""


def shows(scene: Scene, placed: Sequence[Placed], joint: Joint) -> Shows | None:
    """Where the joint's inner edges show; None where opaque or veiling parts hide them.

    ``scene`` is that of all the ``placed`` parts.
    """
    places, inwards = _beads(joint)
    if not len(places):
        return None
    bare = _bare(scene, placed, places, inwards)
    if bare is not None:
        return Shows(*bare, glazed=False)
    bodies = clear_bodies(scene)
    return _through_clear(bodies, places, inwards) if bodies is not None else None


def _bare(
    scene: Scene, placed: Sequence[Placed], places: Floats, inwards: Floats
) -> tuple[float, float] | None:
    """Lowest and highest elevation [°] from which any of the places is seen through air.

    A part can only hide, and one that lies higher or lower by h is met by no line flatter than h over all that it may
    be away. So the parts near in height are asked first, and farther ones while steeper lines are open: a joint deep
    in a tall lamp asks a few of its layers.
    """
    low, high = places[:, 2].min(), places[:, 2].max()
    across = float(scene.radius.max()) + float(np.hypot(places[:, 0], places[:, 1]).max())
    far = across / 2.0
    while True:
        near = (scene.bottom < high + far) & (scene.top > low - far)
        whole = bool(near.all())
        some = (
            scene if whole else scene_of(tuple(part for part, one in zip(placed, near, strict=True) if one))
        )
        found = _bare_among(some, places, inwards)
        if whole or found is None or max(-found[0], found[1]) < np.degrees(np.arctan2(far, across)):
            return found
        far *= _FARTHER


def _bare_among(scene: Scene, places: Floats, inwards: Floats) -> tuple[float, float] | None:
    edges = edges_for(scene, places, inwards)
    _, _, low, high, kind, _, _ = bands_from(
        scene, edges, places, inwards, sorted_bearings(np.radians(even_bearings(_BEARINGS)))
    )
    bare = kind == Kind.BARE
    return (float(np.min(low[bare])), float(np.max(high[bare]))) if bare.any() else None


def _through_clear(bodies: ClearBodies, places: Floats, inwards: Floats) -> Shows | None:
    """Between which elevations light from the places leaves the lamp through clear acrylic."""
    bearing, elevation = np.meshgrid(
        np.radians(np.arange(0.0, 360.0, _RAYS[0])),
        np.radians(np.arange(_RAYS[1] / 2.0 - 90.0, 90.0, _RAYS[1])),
        indexing="ij",
    )
    level = np.cos(elevation)
    ways = np.stack([np.sin(bearing) * level, -np.cos(bearing) * level, np.sin(elevation)], axis=-1).reshape(
        -1, 3
    )
    place, way = np.nonzero(inwards @ ways.T > 0.0)
    found = followed(bodies, places[place], ways[way])
    rise = found.directions[found.faces != 0, 2]
    if not len(rise):
        return None
    low, high = np.degrees(np.arcsin(np.clip([rise.min(), rise.max()], -1.0, 1.0)))
    return Shows(float(low), float(high), glazed=True)


def _beads(joint: Joint) -> tuple[Floats, Floats]:
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


def _runs_clockwise(edge: Floats) -> bool:
    x, y = edge.T
    return bool((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() < 0.0)
