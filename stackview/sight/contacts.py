"""Where clear acrylic touches a neighbour: which face it touches, and what fills the joint.

Asked in one place and one way: from just inside the body that the light is in, straight out by
its face, into the neighbours alone. What is met there within :data:`_TOUCHING` is the next face.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats
from stackview.sight.clear_bodies import ClearBodies
from stackview.sight.refraction import INDEX, dot

_TOUCHING = 0.015
"""Flat faces nearer to each other than this touch [mm]."""
_CURVED = 0.06
"""So do curved ones, whose facets may differ by the chord error; a gap as thin as that bends light no further [mm]."""
_MATCHED = 0.02
"""Glue whose index is no farther than this from that of acrylic fills a sanded face so that it is clear again."""
_DEEPER = 0.005
_OPPOSED = -0.9945
"""Cosine between the normals of faces that lie on each other: they are parallel within 6°."""
_TURNED = -0.97
LEVEL_FACE = 0.999
"""Faces whose normals are this steep are level, and can be glued."""


@dataclass(frozen=True, slots=True, eq=False)
class Contacts:
    """Rays that meet a face where a neighbour touches it.

    ray : (k,) number of the ray; triangle : (k,) the neighbour's; film : (k,) refractive index of what
    fills the joint, 1 for air; lets_through : (k,) whether light passes it unscattered; matched : (k,)
    whether it makes sanded faces clear.
    """

    ray: NDArray[np.int64]
    triangle: NDArray[np.int64]
    film: Floats
    lets_through: NDArray[np.bool_]
    matched: NDArray[np.bool_]


def contacts(
    bodies: ClearBodies, triangle: NDArray[np.int64], place: Floats, flat: Floats, asked: NDArray[np.int64]
) -> Contacts:
    """What touches clear triangles (r,) at places (3, r) [mm], with their outward normals, for the rays asked about.

    Joints are glued on level faces only, and where both parts are.
    """
    outwards, at, face = flat.take(asked, axis=1), place.take(asked, axis=1), triangle[asked]
    own, curved = bodies.body[face], bodies.curved[face]
    reach = np.where(curved, _CURVED, _TOUCHING)
    begin = at - (reach + _DEEPER) * outwards + bodies.moves.T.take(own, axis=1)
    hits = bodies.around.nearest(
        np.ascontiguousarray(begin.T, np.float32), np.ascontiguousarray(outwards.T, np.float32)
    )
    near = ((hits.triangle >= 0) & (hits.distance < 3.0 * reach)).nonzero()[0]
    triangle = bodies.around_triangle[hits.triangle[near]]
    facing = bodies.normals.T.take(triangle, axis=1)
    away = np.abs(dot(facing, at.take(near, axis=1)) - bodies.offsets[triangle])
    least = np.where(bodies.curved[triangle], reach[near], _TOUCHING)
    # Facets of one curve that begin elsewhere are turned against each other, by more the smaller it is.
    opposed = np.where(curved[near], _TURNED, _OPPOSED)
    touch = ((away < least) & (dot(facing, outwards.take(near, axis=1)) < opposed)).nonzero()[0]
    near, triangle = near[touch], triangle[touch]
    one, two = own[near], bodies.body[triangle]
    level = np.abs(outwards[2].take(near)) > LEVEL_FACE
    film = np.where(level, np.minimum(bodies.film[one], bodies.film[two]), 1.0)
    lets_through = (film == 1.0) | (bodies.film_clear[one] & bodies.film_clear[two])
    return Contacts(
        asked[near], triangle, film, lets_through, lets_through & (np.abs(film - INDEX) <= _MATCHED)
    )
