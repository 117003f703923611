"""Which part each pixel of a picture shows first, with clean colours and normals to denoise by."""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import assert_never

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Singles, Whole
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene
from stackview.glow.skins import Clear, Matt, Metal, Mirror, Opal, Sanded, Skin
from stackview.light.colour import Colour
from stackview.sight.camera import Camera, rays, starts
from stackview.solids.rays import Target, target

NOTHING = -1
"""Number of a pixel that shows nothing but the room's light."""
OTHER = -2
"""Number of the strip, the table and the room's surfaces."""
LIGHT_FACE = -3
"""Number of a bare light-giving face."""
_ACROSS = 2
"""Rays along each side of a pixel."""
_FINELY = 4
"""Rays along each side of a pixel whose shares are asked for."""


Window = tuple[slice, slice]
"""Rows and columns of a picture."""


@dataclass(frozen=True, slots=True, eq=False)
class FirstSeen:
    """What a camera's pixels show first.

    part : (h, w) number of the placed part in the pixel's middle, or one of the numbers above;
    whole : (h, w) whether its corners show the same. Read-only.
    """

    part: NDArray[np.int32]
    whole: NDArray[np.bool_]

    def __post_init__(self) -> None:
        for own in fields(self):
            getattr(self, own.name).setflags(write=False)


@dataclass(frozen=True, slots=True, eq=False)
class PartsSeen(FirstSeen):
    """The same with clean colours and normals: albedo, normals (h, w, 3), means over the pixel. Read-only."""

    albedo: Singles
    normals: Singles


@dataclass(frozen=True, slots=True, eq=False)
class Screen:
    """Everything that can be seen as one target for rays, made once for many cameras.

    part : (m + 1,) number of each triangle's part, albedo, normals : (m + 1, 3); the last is for
    rays that meet nothing. Read-only.
    """

    target: Target
    part: NDArray[np.int32]
    albedo: Singles
    normals: Singles

    def __post_init__(self) -> None:
        for array in (self.part, self.albedo, self.normals):
            array.setflags(write=False)


def first_shown(scene: GlowScene, room: Room, camera: Camera, window: Window | None = None) -> FirstSeen:
    """Which part each pixel shows first; with a ``window`` there alone, all else is told as nothing."""
    return _first(screen_of(scene, room), camera, window)


def parts_seen(scene: GlowScene, room: Room, camera: Camera) -> PartsSeen:
    """Follow rays from the camera to the first surface that each meets."""
    screen = screen_of(scene, room)
    first = _first(screen, camera, None)
    width, height = camera.size
    columns, rows = (grid.ravel() for grid in np.meshgrid(np.arange(width), np.arange(height)))
    colour, facing = np.zeros((len(columns), 3), np.float32), np.zeros((len(columns), 3), np.float32)
    for k in range(_ACROSS * _ACROSS):
        shift = (k % _ACROSS + 0.5) / _ACROSS, (k // _ACROSS + 0.5) / _ACROSS
        met = _met(screen, camera, columns + shift[0], rows + shift[1])
        colour += screen.albedo[met] / (_ACROSS * _ACROSS)
        facing += screen.normals[met] / (_ACROSS * _ACROSS)
    shape = (height, width, 3)
    return PartsSeen(first.part, first.whole, colour.reshape(shape), facing.reshape(shape))


def _first(screen: Screen, camera: Camera, window: Window | None) -> FirstSeen:
    width, height = camera.size
    down, across = (slice(0, height), slice(0, width)) if window is None else window
    part = np.full((height, width), NOTHING, np.int32)
    whole = np.zeros((height, width), np.bool_)

    def shown(rows: Floats, columns: Floats) -> NDArray[np.int32]:
        grid = np.meshgrid(columns, rows)
        met = _met(screen, camera, grid[0].ravel(), grid[1].ravel())
        return screen.part[met].reshape(len(rows), len(columns))

    rows, columns = np.arange(down.start, down.stop + 1.0), np.arange(across.start, across.stop + 1.0)
    own, corner = shown(rows[:-1] + 0.5, columns[:-1] + 0.5), shown(rows, columns)
    part[down, across] = own
    whole[down, across] = (
        (corner[:-1, :-1] == own)
        & (corner[1:, :-1] == own)
        & (corner[:-1, 1:] == own)
        & (corner[1:, 1:] == own)
    )
    return FirstSeen(part, whole)


def screen_of(scene: GlowScene, room: Room) -> Screen:
    """Join the lamp and its room into one target."""
    vertices: list[NDArray[np.float64]] = []
    triangles: list[NDArray[np.int64]] = []
    part: list[int] = []
    albedo: list[Colour] = []
    start = 0
    shapes = [
        (body.vertices, body.triangles, body.part if body.part >= 0 else OTHER, _colour(body.skin))
        for body in (*scene.bodies, *room.bodies)
    ]
    shapes += [(light.vertices, light.triangles, LIGHT_FACE, (1.0, 1.0, 1.0)) for light in scene.lights]
    for own_vertices, own_triangles, number, colour in shapes:
        vertices.append(own_vertices)
        triangles.append(own_triangles + start)
        start += len(own_vertices)
        part += [number] * len(own_triangles)
        albedo += [colour] * len(own_triangles)
    corners, faces = np.concatenate(vertices), np.concatenate(triangles)
    a, b, c = (corners[faces[:, k]] for k in range(3))
    flat = np.cross(b - a, c - a)
    flat /= np.maximum(np.linalg.norm(flat, axis=1, keepdims=True), 1e-12)
    return Screen(
        target(corners, faces),
        np.array([*part, NOTHING], np.int32),
        np.array([*albedo, (0.0, 0.0, 0.0)], np.float32),
        np.vstack([flat, np.zeros(3)]).astype(np.float32),
    )


def _met(
    screen: Screen, camera: Camera, columns: NDArray[np.floating], rows: NDArray[np.floating]
) -> NDArray[np.int32]:
    """Triangle that the ray through each place in the picture meets; −1 stands for none."""
    ways = rays(camera, columns, rows)
    origins = np.ascontiguousarray(starts(camera, columns, rows), np.float32)
    return screen.target.nearest(origins, ways).triangle


def shares_of(
    scene: GlowScene, room: Room, camera: Camera, rows: Whole, columns: Whole, numbers: Sequence[int]
) -> Singles:
    """Share (n,) of each of some pixels (n,) that shows one of these parts first, by sixteen rays."""
    screen = screen_of(scene, room)
    found = np.zeros(len(rows), np.float32)
    for k in range(_FINELY * _FINELY):
        across, down = (k % _FINELY + 0.5) / _FINELY, (k // _FINELY + 0.5) / _FINELY
        met = _met(screen, camera, columns + across, rows + down)
        found += np.isin(screen.part[met], numbers) / np.float32(_FINELY * _FINELY)
    return found


def _colour(skin: Skin) -> Colour:
    match skin:
        case Matt(reflectance) | Metal(reflectance) | Mirror(reflectance):
            return reflectance
        case Clear() | Sanded() | Opal():
            return (1.0, 1.0, 1.0)
        case _:
            assert_never(skin)
