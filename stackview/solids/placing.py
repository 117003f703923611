"""Solids moved to where they stand: turned about the z axis, then lifted."""

import numpy as np

from stackview.arrays import Floats
from stackview.by_value import by_value, mark
from stackview.curves.arcs import cos_sin
from stackview.solids.solid import Solid

_KEPT = 64_000_000
"""Placed solids kept for further variants of a lamp [bytes]."""


def placed(solid: Solid, turn: float, lift: float) -> Solid:
    """Turn a solid counter-clockwise by ``turn`` [°] about the z axis and lift it by ``lift`` [mm].

    Quarter turns are exact. A solid placed twice alike is the same object, within bounds of memory.
    """
    ground, height = _turned(solid.ground, turn), solid.lift + lift
    return ground if height == 0.0 else _lifted(ground, height)


@by_value(_KEPT, size=lambda solid: solid.bytes, key=lambda solid, by: (mark(solid), by))
def _lifted(solid: Solid, by: float) -> Solid:
    return solid.lifted(by)


def _turned(solid: Solid, by: float) -> Solid:
    return _turned_by(solid, by) if by % 360.0 else solid


@by_value(_KEPT, size=lambda solid: solid.bytes, key=lambda solid, by: (mark(solid), by))
def _turned_by(solid: Solid, by: float) -> Solid:
    return Solid(turned_points(solid.vertices, by), solid.triangles, solid.faces)


def turned_points(points: Floats, by: float) -> Floats:
    """Points (n, 3) turned counter-clockwise by ``by`` [°] about the z axis, exactly at quarter turns."""
    cos, sin = cos_sin(by)
    x, y, z = points.T
    return np.column_stack((cos * x - sin * y, sin * x + cos * y, z))
