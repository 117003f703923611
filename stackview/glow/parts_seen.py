"""Which part each pixel of a picture shows first, with clean colours and normals to denoise by."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
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
_FINELY = 4
"""Rays along each side of a pixel whose shares are asked for."""
_RAYS = 65_536
"""Rays followed at once, about: what belongs to more of them fits no cache."""


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
    screen = screen_of(scene, room)
    middle, corner = _grid(screen, camera, window)
    if window is None:
        return _told(screen, middle, corner)
    width, height = camera.size
    part, whole = np.full((height, width), NOTHING, np.int32), np.zeros((height, width), np.bool_)
    found = _told(screen, middle, corner)
    part[window], whole[window] = found.part, found.whole
    return FirstSeen(part, whole)


def parts_seen(scene: GlowScene, room: Room, camera: Camera) -> PartsSeen:
    """Follow rays from the camera to the first surface that each meets, four through each pixel."""
    return parts_by_fours(scene, room, twice_as_fine(camera))[1]


def parts_by_fours(scene: GlowScene, room: Room, camera: Camera) -> tuple[FirstSeen, PartsSeen]:
    """What each pixel of a camera shows, and what a picture does that makes one pixel of four; with the same rays.

    Of an odd number of rows or columns the last has no part in that picture.
    """
    screen = screen_of(scene, room)
    middle, corner = _grid(screen, camera, None)
    height, width = middle.shape[0] // 2, middle.shape[1] // 2
    pairs = middle[: 2 * height, : 2 * width].reshape(height, 2, width, 2)
    fours = pairs.swapaxes(1, 2).reshape(height, width, 4)
    colour, facing = np.zeros((height, width, 3), np.float32), np.zeros((height, width, 3), np.float32)
    for k in range(4):
        colour += screen.albedo[fours[..., k]] / 4
        facing += screen.normals[fours[..., k]] / 4
    # Where four pixels meet lies the middle of what they make.
    first = _told(
        screen, corner[1::2, 1::2][:height, :width], corner[: 2 * height + 1 : 2, : 2 * width + 1 : 2]
    )
    return _told(screen, middle, corner), PartsSeen(first.part, first.whole, colour, facing)


def twice_as_fine(camera: Camera) -> Camera:
    """The same camera with four pixels in place of each."""
    width, height = camera.size
    return replace(camera, size=(2 * width, 2 * height))


def half_as_fine(camera: Camera) -> Camera:
    """The camera with one pixel in place of four.

    What two pixels show stays; of an odd number the last is left out, and the camera moves by half of it.
    """
    width, height = camera.size
    size = (width // 2, height // 2)
    right, up, _ = camera.axes
    moved = np.asarray(camera.target) + (up * (height % 2) - right * (width % 2)) * 0.5 / camera.scale
    return replace(
        camera,
        size=size,
        target=(float(moved[0]), float(moved[1]), float(moved[2])),
        field_of_view=float(2.0 * np.degrees(np.arctan(camera.pixel * size[1]))),
    )


def _grid(
    screen: Screen, camera: Camera, window: Window | None
) -> tuple[NDArray[np.int32], NDArray[np.int32]]:
    """Triangles that the rays through the middles (h, w) and the corners (h + 1, w + 1) of a window's pixels meet."""
    width, height = camera.size
    down, across = (slice(0, height), slice(0, width)) if window is None else window

    def met(rows: Floats, columns: Floats) -> NDArray[np.int32]:
        found = [np.zeros((0, len(columns)), np.int32)]
        for some in np.array_split(rows, max(len(rows) * len(columns) // _RAYS, 1)):
            grid = np.meshgrid(columns, some)
            found.append(_met(screen, camera, grid[0].ravel(), grid[1].ravel()).reshape(len(some), -1))
        return np.concatenate(found)

    rows, columns = np.arange(down.start, down.stop + 1.0), np.arange(across.start, across.stop + 1.0)
    return met(rows[:-1] + 0.5, columns[:-1] + 0.5), met(rows, columns)


def _told(screen: Screen, middle: NDArray[np.int32], corner: NDArray[np.int32]) -> FirstSeen:
    """What pixels show whose middles (h, w) and corners (h + 1, w + 1) show these triangles."""
    own, at = screen.part[middle], screen.part[corner]
    whole = (at[:-1, :-1] == own) & (at[1:, :-1] == own) & (at[:-1, 1:] == own) & (at[1:, 1:] == own)
    return FirstSeen(own, whole)


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
