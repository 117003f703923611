"""Where two solids take up the same room."""

from dataclasses import dataclass, replace

import manifold3d
import numpy as np

from stackview.arrays import Floats
from stackview.solids.measure import centre_of_mass
from stackview.solids.placing import placed
from stackview.solids.solid import Solid

__all__ = ["DEPTH", "VOLUME", "Overlap", "overlap", "placed"]

VOLUME = 1e-3
"""Shared volume up to which faces count as merely touching [mm³]."""
DEPTH = 1e-4
"""Mean thickness of the shared part up to which faces count as merely touching [mm]."""


@dataclass(frozen=True, slots=True)
class Overlap:
    """The room that two solids share.

    ``volume`` [mm³] of all its ``pieces`` together; ``depth``, the greatest mean thickness of
    one [mm]; ``centre``, the centre of mass of the largest piece, and ``low`` and ``high``, the
    corners of the box about that piece [mm].
    """

    volume: float
    depth: float
    centre: tuple[float, float, float]
    low: tuple[float, float, float]
    high: tuple[float, float, float]
    pieces: int = 1

    def lifted(self, by: float) -> "Overlap":
        """The same ``by`` [mm] higher."""
        centre, low, high = ((x, y, z + by) for x, y, z in (self.centre, self.low, self.high))
        return replace(self, centre=centre, low=low, high=high)


def overlap(a: Solid, b: Solid, depth: float = DEPTH) -> Overlap | None:
    """Find what two solids share; None where they are apart or merely touch.

    Shared parts thinner than ``depth`` [mm] or smaller than 1e-3 mm³ are taken for touching
    faces. The mean thickness is twice the volume over the surface, as for a thin plate.
    Where facets of two curves lie against each other, give twice the chord error.
    """
    low = np.maximum(a.vertices.min(axis=0), b.vertices.min(axis=0))
    high = np.minimum(a.vertices.max(axis=0), b.vertices.max(axis=0))
    if (high - low <= depth).any():
        return None
    shared = manifold_of(a) ^ manifold_of(b)
    if shared.is_empty() or shared.volume() <= VOLUME:
        return None
    parts = [(part, part.volume(), _thickness(part)) for part in shared.decompose()]
    real = [(part, volume, thick) for part, volume, thick in parts if volume > VOLUME and thick > depth]
    if not real:
        return None
    largest = _solid(max(real, key=lambda piece: piece[1])[0])
    return Overlap(
        volume=sum(volume for _, volume, _ in real),
        depth=max(thick for _, _, thick in real),
        centre=centre_of_mass(largest),
        low=_triple(largest.vertices.min(axis=0)),
        high=_triple(largest.vertices.max(axis=0)),
        pieces=len(real),
    )


def manifold_of(solid: Solid) -> manifold3d.Manifold:
    """Hand the solid over for boolean operations, in double precision."""
    return manifold3d.Manifold(
        manifold3d.Mesh64(np.array(solid.vertices, order="C"), solid.triangles.astype(np.uint64))
    )


def _thickness(part: manifold3d.Manifold) -> float:
    return float(2.0 * part.volume() / part.surface_area())


def _solid(part: manifold3d.Manifold) -> Solid:
    mesh = part.to_mesh64()
    triangles = np.array(mesh.tri_verts, dtype=np.int64)
    return Solid(np.array(mesh.vert_properties[:, :3]), triangles, np.zeros(len(triangles), dtype=np.int8))


def _triple(values: Floats) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in values)
    return x, y, z
