"""Wood over rendered light: a picture in which wood has its mean colour gets the figure of its boards.

The renderer knows each wooden part by one reflectance. Light that leaves a matt surface is in
proportion to it, so a pixel that shows wood is multiplied by the board's own colour there, over
the mean of that material.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.sight.camera import Camera, rays, starts
from stackview.solids.rays import Target, target
from stackview.stack.placed import Placed
from stackview.stills.refine import Facets, facets
from stackview.stills.scatter import scattered
from stackview.stills.surface import surface_colour
from stackview.stills.workers import in_pieces, slices_of

_PROBES = 4000
"""Places at which the mean colour of a material is taken."""
_FINE_GRAIN = 0.1
"""Width of what one of these places covers [mm]."""
_PIECE = 24576
_SAMPLES = 8
"""Rays through a pixel that an edge runs through."""
_MOST_FIGURE, _LEAST_FIGURE = 2.5, 0.2
"""No place is taken for more, or less, than this many times the mean."""


@dataclass(frozen=True, slots=True, eq=False)
class _World:
    mesh: Facets
    screen: Target
    placed: tuple[Placed, ...]
    means: dict[int, Singles]
    """Mean colour (3,) of the material of each figured part, by the part's number."""


def wood_over(placed: Sequence[Placed], camera: Camera) -> Singles:
    """Factor (h, w, 3) that gives a picture's wood its figure; 1 where no wood is seen first."""
    width, height = camera.size
    world = _world(placed)
    if not world.means:
        return np.ones((height, width, 3), np.float32)
    count = width * height
    factor, edge = np.ones((count, 3), np.float32), _edges(world, camera)

    def plain(piece: slice) -> Singles:
        index = np.arange(piece.start, piece.stop)
        return _seen(world, camera, index % width + 0.5, index // width + 0.5, 1.0)

    for piece, part in zip(slices_of(count, _PIECE), in_pieces(plain, count, _PIECE), strict=True):
        factor[piece] = part
    chosen = np.flatnonzero(edge.ravel())
    shifts = scattered(_SAMPLES)

    def fine(piece: slice) -> Singles:
        index = np.repeat(chosen[piece], _SAMPLES)
        shift = np.tile(shifts, (piece.stop - piece.start, 1))
        found = _seen(world, camera, index % width + shift[:, 0], index // width + shift[:, 1], 0.5)
        return np.asarray(found.reshape(-1, _SAMPLES, 3).mean(axis=1), np.float32)

    each = _PIECE // _SAMPLES
    for piece, part in zip(slices_of(len(chosen), each), in_pieces(fine, len(chosen), each), strict=True):
        factor[chosen[piece]] = part
    return factor.reshape(height, width, 3)


def mean_colours(placed: Sequence[Placed]) -> dict[int, Singles]:
    """Mean colour (3,) over all faces of each figured material, by the number of each of its parts.

    It does not depend on where the picture is taken from, and boards keep what sets one of a
    material apart from the next.
    """
    own = {number: part.material.name for number, part in enumerate(placed) if _is_figured(part)}
    found: dict[int, Singles] = {}
    for name in dict.fromkeys(own.values()):
        numbers = [number for number, material in own.items() if material == name]
        sums, weight = np.zeros(3), 0.0
        for number in numbers:
            colour, area = _mean_of(placed[number], max(_PROBES // len(numbers), 64))
            sums, weight = sums + colour * area, weight + area
        found |= dict.fromkeys(numbers, np.asarray(sums / weight, np.float32))
    return found


def _is_figured(part: Placed) -> bool:
    # Paint and mirrors hide the wood.
    hidden = part.material.optics.coat is not None
    return part.material.is_wooden and not hidden and len(part.solid.triangles) > 0


def _mean_of(part: Placed, count: int) -> tuple[NDArray[np.float64], float]:
    """Mean colour over a part's faces, and their area [mm²]: an even walk through its triangles."""
    a, b, c = (part.solid.vertices[part.solid.triangles[:, corner]] for corner in range(3))
    cross = np.cross(b - a, c - a)
    twice = np.linalg.norm(cross, axis=1)
    ends = np.cumsum(twice)
    at = np.searchsorted(ends, (np.arange(count) + 0.5) / count * ends[-1])
    # R2 sequence (M. Roberts, 2018) over the triangle, its far half folded back.
    u, v = (np.arange(1, count + 1)[:, None] * np.array([0.7548776662466927, 0.5698402909980532]) % 1.0).T
    far = u + v > 1.0
    u, v = np.where(far, 1.0 - u, u), np.where(far, 1.0 - v, v)
    places = a[at] + u[:, None] * (b - a)[at] + v[:, None] * (c - a)[at]
    normals = cross[at] / np.maximum(twice[at], 1e-12)[:, None]
    grain = np.full(count, _FINE_GRAIN, np.float32)
    colours = surface_colour(part, places.astype(np.float32), normals.astype(np.float32), grain)
    return colours.mean(axis=0, dtype=np.float64), float(ends[-1] / 2.0)


def _world(placed: Sequence[Placed]) -> _World:
    meshes = [(part.solid.vertices, part.solid.triangles, part.solid.faces) for part in placed]
    mesh = facets(meshes, range(len(placed)), edge=np.inf)
    return _World(mesh, target(mesh.vertices, mesh.triangles), tuple(placed), mean_colours(placed))


def _seen(
    world: _World,
    camera: Camera,
    columns: NDArray[np.floating],
    rows: NDArray[np.floating],
    share: float,
) -> Singles:
    """Factor (n, 3) along the ray through each place in the picture, which stands for ``share`` pixels."""
    factor = np.ones((len(columns), 3), np.float32)
    ways, origins = rays(camera, columns, rows), starts(camera, columns, rows)
    hits = world.screen.nearest(np.ascontiguousarray(origins, np.float32), ways)
    part = np.where(hits.triangle >= 0, world.mesh.part[hits.triangle], -1)
    for number in np.unique(part):
        if number not in world.means:
            continue
        mine = np.flatnonzero(part == number)
        triangle, distance, u, v = (
            own[mine] for own in (hits.triangle, hits.distance, hits.u[:, None], hits.v[:, None])
        )
        a, b, c = (world.mesh.normals[world.mesh.corner[triangle, corner]] for corner in range(3))
        normals = a * (1 - u - v) + b * u + c * v
        normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-6)
        at = origins[mine] + ways[mine] * distance[:, None]
        facing = np.maximum(np.abs((ways[mine] * normals).sum(axis=1)), 0.06) ** 0.75
        wide = (
            np.full(len(mine), 1.0 / camera.scale) if camera.parallel else distance * camera.pixel
        ) * share
        colour = surface_colour(
            world.placed[number], at, normals.astype(np.float32), np.asarray(wide / facing, np.float32)
        )
        factor[mine] = np.clip(colour / np.maximum(world.means[number], 1e-4), _LEAST_FIGURE, _MOST_FIGURE)
    return factor


def _edges(world: _World, camera: Camera) -> NDArray[np.bool_]:
    """Pixels (h, w) whose corners do not all show the same part from the same side."""
    width, height = camera.size
    wide = width + 1
    count = wide * (height + 1)

    def keys(piece: slice) -> NDArray[np.int64]:
        index = np.arange(piece.start, piece.stop)
        columns, rows = (index % wide).astype(np.float64), (index // wide).astype(np.float64)
        origins = np.ascontiguousarray(starts(camera, columns, rows), np.float32)
        triangle = world.screen.nearest(origins, rays(camera, columns, rows)).triangle
        turned = np.rint(world.mesh.flat[triangle] * 3).astype(np.int64) + 3
        side = (turned[:, 0] * 8 + turned[:, 1]) * 8 + turned[:, 2]
        return np.where(triangle >= 0, world.mesh.part[triangle] * 512 + side, -1)

    corner = np.concatenate(in_pieces(keys, count, _PIECE)).reshape(height + 1, wide)
    first = corner[:-1, :-1]
    return np.asarray((first != corner[1:, :-1]) | (first != corner[:-1, 1:]) | (first != corner[1:, 1:]))
