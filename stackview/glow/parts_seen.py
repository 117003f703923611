"""Which part each pixel of a picture shows first, with clean colours and normals to denoise by."""

from dataclasses import dataclass
from typing import assert_never

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
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


@dataclass(frozen=True, slots=True, eq=False)
class PartsSeen:
    """What a camera's pixels show first.

    part : (h, w) number of the placed part in the pixel's middle, or one of the numbers above;
    whole : (h, w) whether its corners show the same;
    albedo, normals : (h, w, 3), means over the pixel. Read-only.
    """

    part: NDArray[np.int32]
    whole: NDArray[np.bool_]
    albedo: Singles
    normals: Singles

    def __post_init__(self) -> None:
        for array in (self.part, self.whole, self.albedo, self.normals):
            array.setflags(write=False)


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


def first_parts(screen: Screen, camera: Camera) -> NDArray[np.int32]:
    """Number (h, w) of the part in each pixel's middle, as in :class:`PartsSeen`."""
    width, height = camera.size
    columns, rows = (grid.ravel() for grid in np.meshgrid(np.arange(width), np.arange(height)))
    return screen.part[_met(screen, camera, columns + 0.5, rows + 0.5)].reshape(height, width)


def parts_seen(scene: GlowScene, room: Room, camera: Camera) -> PartsSeen:
    """Follow rays from the camera to the first surface that each meets."""
    screen = screen_of(scene, room)
    width, height = camera.size
    columns, rows = (grid.ravel() for grid in np.meshgrid(np.arange(width), np.arange(height)))
    own = first_parts(screen, camera)
    colour, facing = np.zeros((len(columns), 3), np.float32), np.zeros((len(columns), 3), np.float32)
    for k in range(_ACROSS * _ACROSS):
        shift = (k % _ACROSS + 0.5) / _ACROSS, (k // _ACROSS + 0.5) / _ACROSS
        met = _met(screen, camera, columns + shift[0], rows + shift[1])
        colour += screen.albedo[met] / (_ACROSS * _ACROSS)
        facing += screen.normals[met] / (_ACROSS * _ACROSS)
    shape = (height, width)
    across, down = (grid.ravel() for grid in np.meshgrid(np.arange(width + 1), np.arange(height + 1)))
    corner = screen.part[_met(screen, camera, across + 0.0, down + 0.0)].reshape(height + 1, width + 1)
    whole = (
        (corner[:-1, :-1] == own)
        & (corner[1:, :-1] == own)
        & (corner[:-1, 1:] == own)
        & (corner[1:, 1:] == own)
    )
    return PartsSeen(own, whole, colour.reshape(*shape, 3), facing.reshape(*shape, 3))


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


def _colour(skin: Skin) -> Colour:
    match skin:
        case Matt(reflectance) | Metal(reflectance) | Mirror(reflectance):
            return reflectance
        case Clear() | Sanded() | Opal():
            return (1.0, 1.0, 1.0)
        case _:
            assert_never(skin)
