"""Which acrylic an eye sees: its camera, as fine as the eye itself, and every plate's pixels in it."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Ints, Whole, Yes
from stackview.glow.hot_spots import FINEST, LEAST_PIXELS, MINUTE
from stackview.glow.landings import without_landings
from stackview.glow.scene import GlowScene
from stackview.glow.skins import Opal, skin_of
from stackview.sight.camera import Camera, eye_view, project, rays
from stackview.spots.faces import Faces
from stackview.stack.placed import Placed

SMALLEST_GLOW, LARGEST_GLOW = (800, 600), (1600, 1200)
"""Sizes of the picture; between them it is as large as the eye's detail asks for [px]."""


@dataclass(frozen=True, slots=True, eq=False)
class PlateView:
    """An acrylic layer as an eye sees it.

    layer : its name; rows, columns : (n,) of the pixels that show nothing else, column by column;
    corner : row and column of the box about them; mask : (h, w) the same in that box. Read-only.
    """

    layer: str
    part: Placed
    rows: Ints
    columns: Ints
    corner: tuple[int, int]
    mask: Yes

    def __post_init__(self) -> None:
        for array in (self.rows, self.columns, self.mask):
            array.setflags(write=False)

    @property
    def places(self) -> tuple[Whole, Whole]:
        """Rows and columns (n,) of the pixels in the box."""
        top, left = self.corner
        return self.rows.astype(np.int64) - top, self.columns.astype(np.int64) - left

    def depth(self, lights: Floats) -> float:
        """From how far behind its face its light comes at least [mm]; 0 where not all of it is spread there.

        Opal that lets none through straight spreads it in its own thickness, and what comes from light points (n, 3)
        above or below it has spread before.
        """
        skin = skin_of(self.part.material, "clear")
        if not isinstance(skin, Opal) or skin.straight > 0.0:
            return 0.0
        heights = self.part.solid.vertices[:, 2]
        low, high = float(heights.min()), float(heights.max())
        away = np.maximum(np.maximum(low - lights[:, 2], lights[:, 2] - high), 0.0)
        return high - low + float(away.min())


def as_fine_as_the_eye(points: Floats, at: Floats, height: float) -> Camera:
    """The picture of an eye at ``at`` (3,) [mm], large enough that a pixel is no coarser than it, within limits."""
    camera = eye_view(points, at, height, SMALLEST_GLOW)
    finer = np.ceil(np.tan(np.radians(camera.field_of_view) / 2.0) * 2.0 / (FINEST * MINUTE))
    tall = int(min(max(finer, SMALLEST_GLOW[1]), LARGEST_GLOW[1]))
    return eye_view(points, at, height, (round(tall * SMALLEST_GLOW[0] / SMALLEST_GLOW[1]), tall))


def plate_views(scene: GlowScene, faces: Faces, camera: Camera) -> tuple[PlateView, ...]:
    """Acrylic layers in sight, from the bottom up, as :func:`stackview.glow.plates_seen.plates_in_sight`.

    Only the part of the picture that can show acrylic is looked at. Landings are left out.
    """
    acrylic = [
        (number, part) for number, part in enumerate(scene.placed) if part.is_layer and not part.opaque
    ]
    if not acrylic:
        return ()
    places = np.concatenate([project(camera, part.solid.vertices) for _, part in acrylic])
    low = np.clip(np.floor(places.min(axis=0)).astype(int), 0, camera.size)
    high = np.clip(np.ceil(places.max(axis=0)).astype(int) + 1, 0, camera.size)
    if (high <= low).any():
        return ()
    shown = _whole_pixels(faces, camera, low, high, [number for number, _ in acrylic])
    found = []
    for number, part in acrylic:
        mask = without_landings(
            scene.landings, number, camera, shown == number, top=int(low[1]), left=int(low[0])
        )
        if mask.sum() >= LEAST_PIXELS:
            columns, rows = np.nonzero(mask.T)
            box = np.s_[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
            found.append(
                PlateView(
                    part.name,
                    part,
                    (rows + low[1]).astype(np.int32),
                    (columns + low[0]).astype(np.int32),
                    (int(rows.min() + low[1]), int(columns.min() + low[0])),
                    mask[box],
                )
            )
    return tuple(found)


def _whole_pixels(faces: Faces, camera: Camera, low: Ints, high: Ints, acrylic: list[int]) -> Ints:
    """Number of the acrylic part that a pixel of a box (h, w) shows in its middle and its corners, else −1.

    Of every pixel's corners one lies in an even row and column: where that shows no acrylic, none is looked at. A
    triangle that shows in all four corners of a square shows all over it, but for what is narrower than the square:
    than two pixels, and for a pixel's middle than one.
    """
    wide, tall = (int(side) for side in high - low)
    corner = np.full((tall + 1, wide + 1), -1, np.int32)
    rows, columns = np.mgrid[0 : tall + 1 : 2, 0 : wide + 1 : 2]
    corner[::2, ::2] = _met(faces, camera, columns + low[0], rows + low[1])
    near = np.isin(_part(faces, corner), acrylic)
    for axis in (0, 1):
        near = near | _moved(near, 1, axis) | _moved(near, -1, axis)
    _fill_squares(corner, acrylic, faces)
    near[::2, ::2] = False
    rows, columns = np.nonzero(near & (corner < 0))
    corner[rows, columns] = _met(faces, camera, columns + low[0], rows + low[1])
    part = _part(faces, corner)
    first, one = part[:-1, :-1], _alike(corner)
    found = np.where(_alike(part) & np.isin(first, acrylic), first, np.int32(-1))
    rows, columns = np.nonzero((found >= 0) & ~one)
    middle = _met(faces, camera, columns + low[0] + 0.5, rows + low[1] + 0.5)
    found[rows, columns] = np.where(_part(faces, middle) == first[rows, columns], first[rows, columns], -1)
    return found


def _fill_squares(corner: Ints, acrylic: list[int], faces: Faces) -> None:
    """Fill in what lies between corners in even rows and columns that show one triangle of acrylic."""
    even = corner[::2, ::2]
    one = _alike(even) & np.isin(_part(faces, even[:-1, :-1]), acrylic)
    shows = np.where(one, even[:-1, :-1], np.int32(-1))
    own = corner[: 2 * one.shape[0] + 1, : 2 * one.shape[1] + 1]
    own[1::2, 1::2] = own[1::2, 2::2] = own[2::2, 1::2] = shows
    own[1::2, :-1:2] = np.maximum(own[1::2, :-1:2], shows)
    own[:-1:2, 1::2] = np.maximum(own[:-1:2, 1::2], shows)


def _moved(near: Yes, by: int, axis: int) -> Yes:
    """The same one row or column further on; beyond the rim is nothing."""
    moved = np.roll(near, by, axis)
    np.moveaxis(moved, axis, 0)[0 if by > 0 else -1] = False
    return moved


def _alike(corner: Ints) -> Yes:
    """Whether all four corners of each pixel are the same (h, w)."""
    first = corner[:-1, :-1]
    return np.asarray(
        (corner[1:, :-1] == first) & (corner[:-1, 1:] == first) & (corner[1:, 1:] == first), np.bool_
    )


def _part(faces: Faces, triangle: Ints) -> Ints:
    """Number of the part that each triangle belongs to, −1 for none."""
    return np.where(triangle >= 0, faces.part[triangle], np.int32(-1))


def _met(faces: Faces, camera: Camera, columns: Floats | Whole, rows: Floats | Whole) -> Ints:
    """Number of the triangle that each place in the picture shows, −1 for none."""
    ways = rays(camera, columns.ravel() + 0.0, rows.ravel() + 0.0)
    origins = np.broadcast_to(camera.eye.astype(np.float32), ways.shape)
    return faces.target.nearest(np.ascontiguousarray(origins), ways).triangle.reshape(columns.shape)
