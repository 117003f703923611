"""The names of edges, as a maker would point at them: "ring 3, outer edge on top"."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import read_only
from stackview.sight.bands import OWN_BACK, POLE, TRACED
from stackview.sight.scene import Scene
from stackview.solids.solid import Face

_FLAT = {Face.TOP: "on top", Face.UNDERSIDE: "underneath"}
_SIDE = {
    Face.OUTER: "outer edge",
    Face.OPENING: "opening's edge",
    Face.RECESS_WALL: "recess's edge",
    Face.GROOVE: "groove's edge",
    Face.CHAMFER: "chamfer's edge",
    Face.BORE: "bore's edge",
    Face.RECESS_FLOOR: "recess floor's edge",
}


def feature_name(one: Face, other: Face) -> str:
    """What the edge between two faces is called.

    >>> feature_name(Face.TOP, Face.OUTER)
    'outer edge on top'
    >>> feature_name(Face.OPENING, Face.RECESS_FLOOR)
    "opening's edge on the recess floor"
    >>> feature_name(Face.OUTER, Face.OUTER)
    'outer side'
    """
    for flat, side in ((one, other), (other, one)):
        if flat in _FLAT and side in _SIDE:
            return f"{_SIDE[side]} {_FLAT[flat]}"
    if one == other:
        alone = {Face.OUTER: "outer side", Face.OPENING: "opening's side", Face.CHAMFER: "chamfer"}
        return alone.get(one, one.word)
    if Face.RECESS_FLOOR in (one, other):
        side = other if one == Face.RECESS_FLOOR else one
        return f"{_SIDE.get(side, side.word)} on the recess floor"
    if Face.CHAMFER in (one, other):
        side = other if one == Face.CHAMFER else one
        return {Face.OUTER: "chamfer's edge outside", Face.OPENING: "chamfer's edge inside the opening"}.get(
            side, "chamfer's edge"
        )
    return f"edge of {min(one, other).word} and {max(one, other).word}"


class EdgeNames:
    """Names of a scene's edges, worked out once for each pair of faces of each solid.

    ``number`` (m,) arrays of edges become (m,) arrays of small name numbers, so that millions
    of bands can be grouped without touching text.
    """

    def __init__(self, scene: Scene) -> None:
        left, right = scene.faces[scene.left].astype(np.int64), scene.faces[scene.right].astype(np.int64)
        solid = scene.solid_of_triangle[scene.left]
        kinds = len(Face)
        key = (solid * kinds + np.minimum(left, right)) * kinds + np.maximum(left, right)
        found, inverse = np.unique(key, return_inverse=True)
        known = (
            f"{scene.names[pair // kinds**2]}, "
            f"{feature_name(Face(pair // kinds % kinds), Face(pair % kinds))}"
            for pair in found.tolist()
        )
        self.texts: tuple[str, ...] = (
            *known,
            "light through clear acrylic",
            "its own back",
            "straight up or down",
        )
        self._of_edge = np.concatenate([inverse.reshape(-1), len(found) + np.arange(3)])
        read_only((self._of_edge,))
        assert (TRACED, OWN_BACK, POLE) == (-3, -2, -1)

    def numbers(self, edge: NDArray[np.int32]) -> NDArray[np.int64]:
        """Name number of each edge, :data:`POLE`, :data:`OWN_BACK` and :data:`TRACED` included."""
        return np.asarray(self._of_edge[edge])

    def text(self, edge: int) -> str:
        """Name of one edge."""
        return self.texts[int(self._of_edge[edge])]
