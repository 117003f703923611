"""Volume, surface, centre of mass and second moments of a solid, exact for its facets."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.by_value import by_value, mark
from stackview.solids.solid import Solid


@dataclass(frozen=True, slots=True)
class Moments:
    """Moments of inertia about the centre of mass at density 1 [mm⁵], and the products of inertia.

    ``xx`` is ∫(y² + z²)dV and so on; ``xy`` is −∫xy dV and so on, as in the inertia tensor.
    """

    xx: float
    yy: float
    zz: float
    xy: float
    yz: float
    zx: float


_KEPT = 4_000_000
"""Measures kept for further variants of a lamp [bytes]."""
Corner = tuple[float, float, float]


def volume(solid: Solid) -> float:
    """Volume [mm³], by the divergence theorem: the sum of signed tetrahedra over the facets."""
    return _volume(solid.ground)


@by_value(_KEPT, key=mark)
def _volume(solid: Solid) -> float:
    return float(_tetrahedra(*_corners(solid)[1:]).sum())


def surface_area(solid: Solid) -> float:
    """Area of all faces [mm²]."""
    _, a, b, c = _corners(solid)
    return float(0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1).sum())


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


def moments(solid: Solid) -> Moments:
    """Second moments about the centre of mass.

    For a tetrahedron with one corner at the origin, ∫x xᵀdV = (6V/120)·(Σ vᵢvᵢᵀ + ssᵀ) with
    s = Σ vᵢ (Tonon, Explicit exact formulas for the 3-D tetrahedron inertia tensor, J. Math.
    Stat. 1(1), 2004; Blow & Binstock 2004).
    """
    _, a, b, c = _corners(solid)
    centre = _centre(a, b, c)
    a, b, c = a - centre, b - centre, c - centre
    weight = _tetrahedra(a, b, c) / 20.0
    total = sum(np.einsum("i,ij,ik->jk", weight, v, v) for v in (a, b, c, a + b + c))
    (x2, xy, zx), (_, y2, yz), (_, _, z2) = np.asarray(total).tolist()
    return Moments(y2 + z2, z2 + x2, x2 + y2, -xy, -yz, -zx)


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
