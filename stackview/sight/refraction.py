"""How a clear face bends light: Snell's law, and total reflection where it lets none out.

No partial (Fresnel) reflection is counted: the ghost of some 4 % that a face throws back shows
no light point that a maker would call one.
"""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Singles

_Either = TypeVar("_Either", Floats, Singles)

INDEX = 1.49
"""Refractive index of acrylic against air (n_d 1.4906 to 1.4925, refractiveindex.info)."""


def refracted(directions: Floats, normals: Floats, ratio: Floats | float) -> tuple[Floats, NDArray[np.bool_]]:
    """Directions behind a face, and where nothing passes it.

    Snell's law as vectors (Born & Wolf, *Principles of Optics*, §3.2.2): with c = −d·n and the
    ratio r = n₁/n₂, the direction behind is r·d + (r·c − √(1 − r²(1 − c²)))·n, and light is
    totally reflected where the root's argument is negative.

    Parameters
    ----------
    directions : (r, 3) unit vectors towards the face
    normals : (r, 3) unit vectors of the face, on the side that the light comes from
    ratio : (r,) or one number, refractive index before the face over that behind it

    Returns
    -------
    behind : (r, 3) unit vectors; of no meaning where reflected
    total : (r,) whether the light is totally reflected

    Examples
    --------
    >>> way = np.array([[np.sin(np.radians(45.0)), 0.0, -np.cos(np.radians(45.0))]])
    >>> behind, total = refracted(way, np.array([[0.0, 0.0, 1.0]]), 1.0 / 1.4906)
    >>> round(float(np.degrees(np.arcsin(behind[0, 0]))), 6), bool(total[0])
    (28.318813, False)
    """
    # Axis by axis, so that the loops run along the rays.
    way, normal = directions.T, normals.T
    cosine = -dot(way, normal)
    under = 1.0 - np.square(ratio) * (1.0 - cosine * cosine)
    along = ratio * cosine - np.sqrt(np.maximum(under, 0.0))
    return (ratio * way + along * normal).T, under < 0.0


def reflected(directions: Floats, normals: Floats) -> Floats:
    """Directions (r, 3) after a mirror with these normals (r, 3), of either sign: d − 2(d·n)n."""
    way, normal = directions.T, normals.T
    return np.asarray((way - 2.0 * dot(way, normal) * normal).T)


def dot(one: _Either, two: _Either) -> _Either:
    """Scalar products (r,) of vectors that lie axis by axis, (3, r)."""
    product: _Either = one[0] * two[0] + one[1] * two[1] + one[2] * two[2]
    return product
