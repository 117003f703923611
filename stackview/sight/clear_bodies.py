"""The clear acrylic of a lamp, laid out for light to be followed through it.

Facets that stand for one curve are one smooth surface: between them the normals are
interpolated, so that a round edge bends light as the curve does; flat faces stay exact.

A body is looked at from inside by itself. For that every clear body has a copy in a scene of
its own, far from the others, so that a face that touches a neighbour's is never mistaken for it;
and the faces of others that may touch it have copies beside it, in a third scene.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole, Yes
from stackview.one_line import one_line
from stackview.sight.scene import CLEAR, Scene
from stackview.solids.rays import Target, target

_SMOOTH = 28.0
"""Facets that meet at less than this angle can stand for one curve [°]."""
_BULGE = 0.25
"""They do where the curve through them leaves the smaller one by no more than this [mm]."""
_NEAR = 0.07
"""Faces farther than this from a body's box never touch it [mm]."""
_AGAINST = -0.96
"""Cosine between the normals of faces that touch, at most: a hair more than the look-up of contacts takes."""
_FLAT = 1e-3
"""Triangles that meet at less than this angle lie in one plane [°]."""


@dataclass(frozen=True, slots=True, eq=False)
class ClearBodies:
    """What light meets on its way through clear acrylic, triangle by triangle of the scene. Read-only.

    open : (t,) whether the triangle is a clear body's and not sanded: light goes on unveiled
    clear : (t,) whether it is a clear body's, sanded or not; body : (t,) number of the solid;
    film, film_clear : (s,) of each solid's joints, as in the scene
    surface : (t,) number of the flat or smoothly curved surface
    normals : (t, 3) outward unit vectors, laid out axis by axis; offsets : (t,) so that normal·x = offset
    touched_from : (t,) how near to the axis another solid may touch the triangle, ∞ where none does [mm]
    curved : (t,) whether it is part of a curve; corners : (t, 3, 3) unit normals of the smooth
    surface at each corner, laid out axis by axis
    outside : all triangles; inside : those of clear bodies, each body moved by ``moves`` (solids, 3)
    inside_triangle : (k,) the scene's number of each triangle in ``inside``; around,
    around_triangle : the same of all other solids' triangles near to each clear body, moved as it is
    """

    open: NDArray[np.bool_]
    clear: NDArray[np.bool_]
    film: NDArray[np.float64]
    film_clear: NDArray[np.bool_]
    body: NDArray[np.int64]
    surface: NDArray[np.int64]
    normals: NDArray[np.float64]
    offsets: NDArray[np.float64]
    touched_from: NDArray[np.float64]
    curved: NDArray[np.bool_]
    corners: NDArray[np.float64]
    outside: Target
    inside: Target
    moves: NDArray[np.float64]
    inside_triangle: NDArray[np.int64]
    around: Target
    around_triangle: NDArray[np.int64]

    __repr__ = one_line

    def __post_init__(self) -> None:
        for name in self.__slots__:
            value = getattr(self, name)
            if isinstance(value, np.ndarray):
                value.setflags(write=False)

    @property
    def touched(self) -> Yes:
        """Whether another solid may touch each triangle (t,)."""
        return np.asarray(self.touched_from < np.inf)


def has_clear_faces(scene: Scene) -> bool:
    """Whether the scene has any clear face that light could pass unveiled."""
    return bool(np.any((scene.exit_weight == CLEAR) & (scene.cross_weight == 0)))


@lru_cache(maxsize=1)
def clear_bodies(scene: Scene) -> ClearBodies | None:
    """Lay out a scene's clear bodies; None where it has no clear face. The last scene's are kept."""
    if not has_clear_faces(scene):
        return None
    clear = scene.exit_weight == CLEAR
    length = np.linalg.norm(scene.normals, axis=1)
    normals = scene.normals / np.maximum(length, 1e-300)[:, None]
    surface, curved = _surfaces(scene, clear, normals)
    own = np.flatnonzero(clear)
    moves = _apart(scene)
    corners = np.repeat(normals[:, None], 3, axis=1)
    corners[curved] = _smooth_normals(scene, curved, surface, normals, length)
    offsets = np.einsum("ij,ij->i", normals, scene.vertices[scene.triangles[:, 0]])
    near, beside, touched = _neighbours(scene, np.unique(scene.solid_of_triangle[own]), normals, offsets)
    return ClearBodies(
        clear=clear,
        film=scene.film,
        film_clear=scene.film_clear,
        open=clear & (scene.cross_weight == 0),
        body=scene.solid_of_triangle,
        surface=surface,
        normals=np.asfortranarray(normals),
        offsets=offsets,
        curved=np.isin(np.arange(len(normals)), curved),
        touched_from=touched,
        corners=np.ascontiguousarray(corners.transpose(1, 2, 0)).transpose(2, 0, 1),
        outside=target(scene.vertices, scene.triangles),
        inside=_moved(scene, own, moves[scene.solid_of_triangle[own]]),
        moves=moves,
        inside_triangle=own,
        around=_moved(scene, near, moves[beside]),
        around_triangle=near,
    )


def _moved(scene: Scene, triangles: NDArray[np.int64], by: NDArray[np.float64]) -> Target:
    """These of the triangles (k,), each moved by its own (k, 3) [mm], to send rays into."""
    vertices = scene.vertices[scene.triangles[triangles]] + by[:, None]
    return target(vertices.reshape(-1, 3), np.arange(3 * len(triangles)).reshape(-1, 3))


def _neighbours(scene: Scene, bodies: Whole, normals: Floats, offsets: Floats) -> tuple[Whole, Whole, Floats]:
    """Triangles of others that reach into the box round one of the bodies; of which; how near to the axis each is touched.

    One that touches has its plane within :data:`_NEAR` of some of the other, and is turned against it.
    """
    corners = scene.vertices[scene.triangles]
    low, high, away = corners.min(axis=1), corners.max(axis=1), _from_axis(corners)
    near, beside, touched = [], [], np.full(len(low), np.inf)
    for body in bodies:
        own = np.flatnonzero(scene.solid_of_triangle == body)
        within = (low <= high[own].max(axis=0) + _NEAR) & (high >= low[own].min(axis=0) - _NEAR)
        within[own] = False
        near.append(np.flatnonzero(within.all(axis=1)))
        beside.append(np.full(len(near[-1]), body))
        one, other = _overlapping(low[own], high[own], low[near[-1]], high[near[-1]])
        one, other = own[one], near[-1][other]
        against = np.flatnonzero(np.einsum("kx,kx->k", normals[one], normals[other]) < _AGAINST)
        one, other = one[against], other[against]
        apart = np.einsum("kcx,kx->kc", corners[one], normals[other]) - offsets[other][:, None]
        close = (apart.min(axis=1) <= _NEAR) & (apart.max(axis=1) >= -_NEAR)
        np.minimum.at(touched, one[close], away[other[close]])
    return np.concatenate(near), np.concatenate(beside), np.maximum(touched - _NEAR, 0.0)


def _overlapping(low: Floats, high: Floats, others_low: Floats, others_high: Floats) -> tuple[Whole, Whole]:
    """Pairs of a box (n, 3) and one of some others (m, 3) that come near to each other."""
    near = np.ones((len(low), len(others_low)), bool)
    for axis in range(3):
        near &= low[:, None, axis] <= others_high[:, axis] + _NEAR
        near &= high[:, None, axis] >= others_low[:, axis] - _NEAR
    one, other = near.nonzero()
    return one, other


def _from_axis(corners: Floats) -> Floats:
    """How near triangles (t, 3, 3), seen from above, come to the axis (t,) [mm]."""
    begin = corners[..., :2]
    end = np.roll(begin, -1, axis=1)
    along = end - begin
    length = np.maximum(np.square(along).sum(axis=-1), 1e-300)
    share = np.clip(-(begin * along).sum(axis=-1) / length, 0.0, 1.0)
    foot = begin + share[..., None] * along
    nearest = np.sqrt(np.square(foot).sum(axis=-1)).min(axis=1)
    turn = begin[..., 0] * end[..., 1] - begin[..., 1] * end[..., 0]
    about = (turn >= 0.0).all(axis=1) | (turn <= 0.0).all(axis=1)
    return np.where(about, 0.0, nearest)


def _apart(scene: Scene) -> NDArray[np.float64]:
    """A move for each solid (s, 3) [mm] that sets it clear of all others: places in a cubic grid."""
    solids = len(scene.names)
    across = float(np.ptp(scene.vertices, axis=0).max()) * 1.5 + 10.0
    side = int(np.ceil(solids ** (1.0 / 3.0) - 1e-9))
    number = np.arange(solids)
    places = np.stack([number % side, number // side % side, number // side**2], axis=1)
    return np.asarray((places - (side - 1) / 2.0) * across, np.float64)


def _surfaces(
    scene: Scene, clear: NDArray[np.bool_], normals: NDArray[np.float64]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Number of each triangle's surface (t,), and the clear triangles that lie in curved ones."""
    left, right = scene.left, scene.right
    within = clear[left] & clear[right]
    cosine = np.einsum("ij,ij->i", normals[left], normals[right])
    flat = within & (cosine > np.cos(np.radians(_FLAT)))
    turn = np.arccos(np.clip(cosine, -1.0, 1.0))
    # A chord of length L between tangents that turn by θ lies L/2·tan(θ/4) below its arc.
    width = _widths(scene)
    bulge = np.minimum(width[left], width[right]) / 2.0 * np.tan(turn / 4.0)
    smooth = within & ~flat & (turn < np.radians(_SMOOTH)) & (bulge < _BULGE)
    joined = flat | smooth
    surface = _components(len(scene.triangles), left[joined], right[joined])
    bent = np.unique(surface[left[smooth]])
    return surface, np.flatnonzero(clear & np.isin(surface, bent))


def _widths(scene: Scene) -> NDArray[np.float64]:
    """Greatest length of each triangle's edges seen from above (t,) [mm]."""
    corners = scene.vertices[scene.triangles][..., :2]
    edges = corners - np.roll(corners, 1, axis=1)
    return np.asarray(np.sqrt(np.square(edges).sum(axis=2)).max(axis=1))


def _components(count: int, one: NDArray[np.int64], two: NDArray[np.int64]) -> NDArray[np.int64]:
    """Least number among all that are joined, directly or through others, for each of ``count``."""
    label = np.arange(count)
    while True:
        least = np.minimum(label[one], label[two])
        before = label.copy()
        np.minimum.at(label, one, least)
        np.minimum.at(label, two, least)
        label = label[label]
        if np.array_equal(label, before):
            return label


def _smooth_normals(
    scene: Scene,
    curved: NDArray[np.int64],
    surface: NDArray[np.int64],
    normals: NDArray[np.float64],
    areas: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Unit normals (k, 3, 3) at the corners of curved triangles: the mean over their surface's triangles there.

    Weighed by angle, so that it does not matter how facets are cut into triangles, and by the
    square of the area, so that a long flat wall keeps its own normal where a round corner joins it.
    """
    corners = scene.triangles[curved]
    key, place = np.unique(surface[curved][:, None] * len(scene.vertices) + corners, return_inverse=True)
    place = place.reshape(corners.shape)
    points = scene.vertices[corners]
    total = np.zeros((len(key), 3))
    for corner in range(3):
        one = points[:, (corner + 1) % 3] - points[:, corner]
        two = points[:, (corner + 2) % 3] - points[:, corner]
        sine = np.linalg.norm(np.cross(one, two), axis=1)
        weight = np.arctan2(sine, np.einsum("ij,ij->i", one, two)) * areas[curved] ** 2
        np.add.at(total, place[:, corner], weight[:, None] * normals[curved])
    total /= np.maximum(np.linalg.norm(total, axis=1), 1e-300)[:, None]
    return np.asarray(total[place])
