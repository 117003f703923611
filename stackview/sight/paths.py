"""Light followed from a light point through clear acrylic until it leaves the lamp or is ended.

A path is ended by anything opaque, by opal acrylic, and by a sanded face (the point is then
veiled, not glazed). Faces that touch another part are taken as dry: a film of air stays
between them, so that clear acrylic reflects totally there as it does in the open.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.sight.clear_bodies import ClearBodies
from stackview.sight.refraction import INDEX, Floats, reflected, refracted

MOST = 32
"""Faces that a path may meet; light that goes on longer inside acrylic is not followed."""
OFF = 2e-3
"""How far off a face the search for the next one begins: well over the rounding of 32-bit rays [mm]."""
_OUTSIDE = -1
_MULTIPLIER = np.uint64(0x9E3779B97F4A7C15)


@dataclass(frozen=True, slots=True, eq=False)
class Paths:
    """Where rays end up.

    faces : (r,) which surfaces the ray met, in order, refracted or reflected, as one number; 0 where
    it did not leave the lamp through clear acrylic; places, directions : (r, 3) from where [mm]
    and whither it leaves the last face.
    """

    faces: NDArray[np.uint64]
    places: Floats
    directions: Floats


@dataclass(slots=True, eq=False)
class _Rays:
    """Rays under way; ``number`` is that of the ray as it was sent out."""

    number: NDArray[np.int64]
    place: Floats
    way: Floats
    before: Floats
    """Direction inside the acrylic that the ray left last."""
    off: Floats
    """Where the search for the next face begins."""
    body: NDArray[np.int64]
    """Clear body that holds the ray, or −1."""
    faces: NDArray[np.uint64]

    def chosen(self, index: NDArray[np.int64]) -> "_Rays":
        return _Rays(*(getattr(self, name).take(index, axis=0) for name in self.__slots__))


def followed(bodies: ClearBodies, places: Floats, directions: Floats) -> Paths:
    """Follow rays from ``places`` (r, 3) [mm] along unit ``directions`` (r, 3)."""
    count = len(places)
    found = Paths(np.zeros(count, np.uint64), np.array(places), np.array(directions))
    rays = _Rays(
        np.arange(count),
        places,
        directions,
        directions,
        places,
        np.full(count, _OUTSIDE),
        np.zeros(count, np.uint64),
    )
    for _ in range(MOST + 1):
        if not len(rays.number):
            break
        triangle, u, v = _next(bodies, rays)
        gone = triangle < 0
        out = gone & (rays.faces > 0) & (rays.body == _OUTSIDE)
        found.faces[rays.number[out]] = rays.faces[out]
        found.places[rays.number[out]] = rays.place[out]
        found.directions[rays.number[out]] = rays.way[out]
        on = np.flatnonzero(~gone & bodies.open[triangle])
        rays = _past(bodies, rays.chosen(on), triangle[on], u[on], v[on])
    return found


def _next(
    bodies: ClearBodies, rays: _Rays
) -> tuple[NDArray[np.int64], NDArray[np.float64], NDArray[np.float64]]:
    """The scene's triangle that each ray meets next (−1: none), and where on it (barycentric)."""
    triangle = np.full(len(rays.number), -1, np.int64)
    u, v = np.zeros(len(triangle)), np.zeros(len(triangle))
    way = rays.way.astype(np.float32)
    for within in (False, True):
        own = np.flatnonzero((rays.body >= 0) == within)
        if not len(own):
            continue
        begin = rays.off[own] + (bodies.moves[rays.body[own]] if within else 0.0)
        cast = bodies.inside if within else bodies.outside
        hits = cast.nearest(begin.astype(np.float32), np.ascontiguousarray(way[own]))
        met = np.flatnonzero(hits.triangle >= 0)
        number = hits.triangle[met].astype(np.int64)
        triangle[own[met]] = bodies.inside_triangle[number] if within else number
        u[own], v[own] = hits.u, hits.v
    return triangle, u, v


def _past(bodies: ClearBodies, rays: _Rays, triangle: NDArray[np.int64], u: Floats, v: Floats) -> _Rays:
    """The rays just past the clear faces that they meet."""
    flat = bodies.normals[triangle]
    within = rays.body >= 0
    leaving = np.einsum("ij,ij->i", rays.way, flat) > 0.0
    # A ray that seems to leave what it never entered left one body for another that touches it:
    # through the film of air between them it keeps the direction that it had before.
    slipped = leaving & ~within
    way = np.where(slipped[:, None], rays.before, rays.way) if slipped.any() else rays.way
    across = np.einsum("ij,ij->i", way, flat)
    sound = (np.abs(across) > 1e-9) & (leaving == (across > 0.0)) & (leaving | ~within)
    if not sound.all():
        index = np.flatnonzero(sound)
        rays, triangle, u, v = rays.chosen(index), triangle[index], u[index], v[index]
        flat, leaving, way, across = flat[index], leaving[index], way[index], across[index]
    distance = (bodies.offsets[triangle] - np.einsum("ij,ij->i", rays.place, flat)) / across
    place = rays.place + distance[:, None] * way
    smooth = _smooth(bodies.corners[triangle], u, v)
    towards = np.where(leaving, -1.0, 1.0)[:, None]
    beyond, mirrored = _bent(way, smooth * towards, flat * towards, leaving)
    inside = mirrored | ~leaving
    code = (2 * bodies.surface[triangle] + mirrored + 1).astype(np.uint64)
    return _Rays(
        number=rays.number,
        place=place,
        way=beyond,
        before=way,
        off=place + np.where(inside, -OFF, OFF)[:, None] * flat,
        body=np.where(inside, bodies.body[triangle], _OUTSIDE),
        faces=(rays.faces ^ code) * _MULTIPLIER,
    )


def _smooth(corners: Floats, u: Floats, v: Floats) -> Floats:
    """Unit normals at places on triangles with these corner normals (r, 3, 3)."""
    weights = np.stack([1.0 - u - v, u, v], axis=1)
    normals = np.einsum("rc,rcx->rx", weights, corners)
    return np.asarray(normals / np.maximum(np.linalg.norm(normals, axis=1), 1e-300)[:, None])


def _bent(
    way: Floats, smooth: Floats, flat: Floats, leaving: NDArray[np.bool_]
) -> tuple[Floats, NDArray[np.bool_]]:
    """Directions past a face, and where it reflects totally; normals on the side the light comes from.

    Where the smooth normal would send light through the wrong side of its facet, the facet's own
    is taken: that happens only within a facet's turn of grazing.
    """
    ratio = np.where(leaving, INDEX, 1.0 / INDEX)
    normals = np.where((np.einsum("ij,ij->i", way, smooth) < 0.0)[:, None], smooth, flat)
    beyond, total = _turned(way, normals, ratio)
    wrong = (np.einsum("ij,ij->i", beyond, flat) > 0.0) != total
    if wrong.any():
        beyond[wrong], total[wrong] = _turned(way[wrong], flat[wrong], ratio[wrong])
    return beyond / np.linalg.norm(beyond, axis=1)[:, None], total


def _turned(way: Floats, normals: Floats, ratio: Floats) -> tuple[Floats, NDArray[np.bool_]]:
    """Directions past faces with these normals, and where they reflect totally."""
    behind, total = refracted(way, normals, ratio)
    return np.where(total[:, None], reflected(way, normals), behind), total
