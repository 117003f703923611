"""Volume, centre of mass and box of a solid, exact for its facets."""

import numpy as np

from stackview.arrays import Floats
from stackview.by_value import by_value, mark
from stackview.solids.solid import Solid

_KEPT = 4_000_000
"""Measures kept for further variants of a lamp [bytes]."""
Corner = tuple[float, float, float]


def volume(solid: Solid) -> float:
    """Volume [mm³], by the divergence theorem: the sum of signed tetrahedra over the facets."""
    return _volume(solid.ground)


@by_value(_KEPT, key=mark)
def _volume(solid: Solid) -> float:
    return float(_tetrahedra(*_corners(solid)[1:]).sum())


def centre_of_mass(solid: Solid) -> tuple[float, float, float]:
    """Centre of mass [mm]: a tetrahedron has its own at the mean of its corners."""
    x, y, z = _centre_of_mass(solid.ground)
    return x, y, z + solid.lift


@by_value(_KEPT, key=mark)
def _centre_of_mass(solid: Solid) -> Corner:
    origin, a, b, c = _corners(solid)
    x, y, z = origin + _centre(a, b, c)
    return float(x), float(y), float(z)


def box(solid: Solid) -> tuple[Corner, Corner]:
    """The lowest and the highest corner of the box about a solid [mm]."""
    (x0, y0, z0), (x1, y1, z1) = _box(solid.ground)
    return (x0, y0, z0 + solid.lift), (x1, y1, z1 + solid.lift)


@by_value(_KEPT, key=mark)
def _box(solid: Solid) -> tuple[Corner, Corner]:
    (x0, y0, z0), (x1, y1, z1) = solid.vertices.min(axis=0).tolist(), solid.vertices.max(axis=0).tolist()
    return (x0, y0, z0), (x1, y1, z1)


def _corners(solid: Solid) -> tuple[Floats, Floats, Floats, Floats]:
    """Take a point amid the solid and the facets' corners (m, 3) from there: sums stay accurate."""
    origin = 0.5 * (solid.vertices.min(axis=0) + solid.vertices.max(axis=0))
    a, b, c = (solid.vertices[solid.triangles[:, k]] - origin for k in range(3))
    return origin, a, b, c


def _tetrahedra(a: Floats, b: Floats, c: Floats) -> Floats:
    """Signed volumes (m,) of the tetrahedra over the facets."""
    volumes: Floats = np.einsum("ij,ij->i", a, np.cross(b, c)) / 6.0
    return volumes


def _centre(a: Floats, b: Floats, c: Floats) -> Floats:
    volumes = _tetrahedra(a, b, c)
    centre: Floats = ((a + b + c) * (volumes / 4.0)[:, None]).sum(axis=0) / volumes.sum()
    return centre
