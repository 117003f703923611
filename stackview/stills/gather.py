"""Light gathered at surface points from all around: sky, glowing acrylic, and what rays meet."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Ints, Singles
from stackview.solids.rays import Target
from stackview.stills.dome import GROUND, KEY_LIGHT, dome, hemisphere, key_rays, local_axes
from stackview.stills.grid import on_ground
from stackview.stills.panes import Panes
from stackview.stills.workers import in_pieces

_PIECE = 1024
_PROBES = 10
"""Rays that find out whether a point is buried."""
_GROUND_RAYS = 32
"""Rays by which a point sees the ground."""


@dataclass(frozen=True, slots=True, eq=False)
class World:
    """What rays meet.

    ``flat`` and ``closed`` are the walls' normals (m, 3) and whether a triangle bounds a solid;
    ``panes`` are the acrylic.
    """

    walls: Target
    flat: Singles
    closed: NDArray[np.bool_]
    panes: Panes
    ground_sky: tuple[Singles, float] | None
    """Grid (k, k, 3) of the sky's light on the ground and its reach [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Surroundings:
    """What n points see around them.

    ``sky`` (n, 3) is irradiance over π straight from the studio; ``wall`` and ``pane`` (n, k) the
    triangles that each ray met first, −1 for none; ``share`` (n, k) how much of what comes from
    behind the pane arrives.
    """

    sky: Singles
    wall: Ints
    pane: Ints
    share: Singles


def gather(at: Singles, normals: Singles, world: World, *, rays: int, key: int) -> Surroundings:
    """Send ``rays`` cosine-spread rays and ``key`` rays to the large light from each point (n, 3).

    The same rays, turned smoothly with the normal, leave every point: neighbours differ by what
    they see and not by chance, so flat faces stay free of blotches.
    """
    parts = in_pieces(
        lambda piece: _gather_piece(at[piece], normals[piece], world, rays, key), max(len(at), 1), _PIECE
    )
    return Surroundings(
        *(
            np.concatenate([getattr(part, name) for part in parts])
            for name in ("sky", "wall", "pane", "share")
        )
    )


def in_the_dark(at: Singles, normals: Singles, world: World) -> NDArray[np.bool_]:
    """Whether each point (n,) lies inside or close against another part, and so in the dark.

    Rays that start inside a solid meet its faces from behind.
    """
    origins, directions = _fan(at, normals, _PROBES)
    met = world.walls.nearest(origins, directions)
    struck = np.flatnonzero(met.triangle >= 0)
    index = met.triangle[struck]
    behind = np.zeros(len(origins), np.bool_)
    behind[struck] = ((directions[struck] * world.flat[index]).sum(axis=1) > 0) & world.closed[index]
    return np.asarray(behind.reshape(len(at), _PROBES).mean(axis=1) > 0.35)


def from_ground(at: Singles, normals: Singles, world: World, light: Singles, reach: float) -> Singles:
    """Light (n, 3) that comes to surface points from the ground, as irradiance over π.

    ``light`` (k, k, 3) is the ground's luminance over ±``reach`` [mm]. What acrylic hides is left out.
    """

    def piece_of(piece: slice) -> Singles:
        origins, directions = _fan(at[piece], normals[piece], _GROUND_RAYS)
        hidden = world.walls.nearest(origins, directions).triangle >= 0
        if world.panes.target.scene is not None:
            hidden |= world.panes.target.nearest(origins, directions).triangle >= 0
        down = np.flatnonzero(~hidden & (directions[:, 2] < -1e-3) & (origins[:, 2] > 0))
        way = -origins[down, 2] / directions[down, 2]
        found = np.zeros((len(origins), 3), np.float32)
        x, y = (origins[down, k] + way * directions[down, k] for k in (0, 1))
        near = (np.abs(x) < reach) & (np.abs(y) < reach)
        found[down[near]] = on_ground(light, reach, x[near], y[near])
        return np.asarray(found.reshape(-1, _GROUND_RAYS, 3).mean(axis=1), np.float32)

    return np.concatenate(in_pieces(piece_of, max(len(at), 1), _PIECE))


def _fan(at: Singles, normals: Singles, rays: int) -> tuple[Singles, Singles]:
    """Origins and directions (n·rays, 3) of rays spread about each normal."""
    across, along = local_axes(normals)
    local = hemisphere(rays)
    directions = (
        across[:, None] * local[:, :1] + along[:, None] * local[:, 1:2] + normals[:, None] * local[:, 2:]
    )
    return np.repeat(at, rays, axis=0), np.asarray(directions.reshape(-1, 3), np.float32)


def _gather_piece(at: Singles, normals: Singles, world: World, rays: int, key: int) -> Surroundings:
    count = len(at)
    origins, directions = _fan(at, normals, rays)
    met = world.walls.nearest(origins, directions)
    sheet = world.panes.target.nearest(origins, directions)
    first = sheet.distance < met.distance
    pane = np.where(first, sheet.triangle, np.int32(-1))
    share = np.ones(count * rays, np.float32)
    share[first] = world.panes.passing[sheet.triangle[first]]
    missed = np.flatnonzero(met.triangle < 0)
    sky = np.zeros((count * rays, 3), np.float32)
    sky[missed] = dome(directions[missed])
    _add_ground(origins, directions, missed, world.ground_sky, sky)
    sky *= share[:, None]
    square = (count, rays)
    return Surroundings(
        sky.reshape(*square, 3).mean(axis=1) + _key_light(at, normals, world, key),
        met.triangle.reshape(square),
        pane.reshape(square),
        share.reshape(square),
    )


def _add_ground(
    origins: Singles,
    directions: Singles,
    missed: NDArray[np.int64],
    ground_sky: tuple[Singles, float] | None,
    sky: Singles,
) -> None:
    """Let rays that go down see the ground's light instead of the dome."""
    if ground_sky is None:
        return
    down = missed[(directions[missed, 2] < -1e-3) & (origins[missed, 2] > 0)]
    way = -origins[down, 2] / directions[down, 2]
    x, y = (origins[down, k] + way * directions[down, k] for k in (0, 1))
    sky[down] = GROUND * on_ground(*ground_sky, x, y)


def _key_light(at: Singles, normals: Singles, world: World, count: int) -> Singles:
    """Light (n, 3) of the large studio light over π, softly shadowed."""
    towards = key_rays(count)
    facing = np.maximum(normals @ towards.T, 0.0)
    pair, ray = np.nonzero(facing > 0)
    origins, directions = at[pair], towards[ray]
    far = np.full(len(pair), 1e6, np.float32)
    open_ = ~world.walls.blocked(origins, directions, far)
    weight = facing[pair, ray] * open_
    if world.panes.target.scene is not None:
        sheet = world.panes.target.nearest(origins, directions)
        dimmed = sheet.triangle >= 0
        weight[dimmed] *= world.panes.passing[sheet.triangle[dimmed]]
    total = np.bincount(pair, weight, len(at)) / count
    return np.asarray(total[:, None] * KEY_LIGHT, np.float32)


def bounced(gathered: Surroundings, from_walls: Singles, from_panes: Singles) -> Singles:
    """Light (n, c) that arrives from the triangles all around.

    Each triangle of the walls sends ``from_walls`` (m, c), each of the panes ``from_panes`` (s, c).
    """
    nothing = np.zeros((1, from_walls.shape[1]), np.float32)
    walls, panes = np.concatenate([from_walls, nothing]), np.concatenate([from_panes, nothing])

    def piece_of(piece: slice) -> Singles:
        arriving = walls[gathered.wall[piece]] * gathered.share[piece][:, :, None]
        if len(panes) > 1:
            arriving += panes[gathered.pane[piece]]
        return np.asarray(arriving.mean(axis=1), np.float32)

    return np.concatenate(in_pieces(piece_of, max(len(gathered.wall), 1), _PIECE))
