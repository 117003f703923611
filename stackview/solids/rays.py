"""Rays against triangles, through Embree: the only file that loads it."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Ints, Singles


@dataclass(frozen=True, slots=True, eq=False)
class Hits:
    """Nearest triangle along each ray: its index (-1 for none), distance [mm], barycentric (u, v)."""

    triangle: Ints
    distance: Singles
    u: Singles
    v: Singles


@dataclass(frozen=True, slots=True, eq=False)
class Target:
    """Triangles that rays can be sent into; ``scene`` is None where there are none."""

    scene: Any | None

    def nearest(self, origins: Singles, directions: Singles) -> Hits:
        """First triangle that each ray (n, 3) meets; directions of length 1 give distances in mm."""
        count = len(directions)
        if self.scene is None or count == 0:
            nothing = np.zeros(count, np.float32)
            return Hits(np.full(count, -1, np.int32), np.full(count, np.inf, np.float32), nothing, nothing)
        found = self.scene.run(origins, directions, output=1)
        missed = found["primID"] < 0
        found["tfar"][missed] = np.inf
        return Hits(found["primID"], found["tfar"], found["u"], found["v"])

    def blocked(self, origins: Singles, directions: Singles, reach: Singles) -> NDArray[np.bool_]:
        """Whether anything stands between each origin and ``reach`` [mm] along its direction."""
        if self.scene is None or len(directions) == 0:
            return np.zeros(len(directions), np.bool_)
        hit: Ints = self.scene.run(origins, directions, reach, query="OCCLUDED")
        return np.asarray(hit != -1)


def target(vertices: NDArray[Any], triangles: NDArray[Any]) -> Target:
    """Build a target from (n, 3) vertices [mm] and (m, 3) triangles; m may be 0."""
    if len(triangles) == 0:
        return Target(None)
    from embreex.mesh_construction import TriangleMesh
    from embreex.rtcore_scene import EmbreeScene

    scene = EmbreeScene()
    TriangleMesh(
        scene,
        np.ascontiguousarray(vertices, np.float32),
        np.ascontiguousarray(triangles, np.int32),
    )
    # The first ray commits the scene; later ones may then come from several threads at once.
    scene.run(np.zeros((1, 3), np.float32), np.array([[0, 0, 1]], np.float32), query="OCCLUDED")
    return Target(scene)
