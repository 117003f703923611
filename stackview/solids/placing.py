"""Solids moved to where they stand: turned about the z axis, then lifted."""

import numpy as np

from stackview.curves.arcs import Array, cos_sin
from stackview.solids.solid import Solid


def placed(solid: Solid, turn: float, lift: float) -> Solid:
    """Turn a solid counter-clockwise by ``turn`` [°] about the z axis and lift it by ``lift`` [mm].

    Quarter turns are exact.
    """
    vertices = turned_points(solid.vertices, turn) if turn % 360.0 else np.array(solid.vertices)
    vertices[:, 2] += lift
    return Solid(vertices, solid.triangles, solid.faces)


def turned_points(points: Array, by: float) -> Array:
    """Points (n, 3) turned counter-clockwise by ``by`` [°] about the z axis, exactly at quarter turns."""
    cos, sin = cos_sin(by)
    x, y, z = points.T
    return np.column_stack((cos * x - sin * y, sin * x + cos * y, z))
