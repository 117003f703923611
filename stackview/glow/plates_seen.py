"""Acrylic layers as a camera sees them: which pixels show them, and what to render to see them finer."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Whole
from stackview.description.material import Sort
from stackview.glow.hot_spots import LEAST_PIXELS
from stackview.glow.landings import without_landings
from stackview.glow.parts_seen import FirstSeen, Window
from stackview.glow.scene import GlowScene
from stackview.glow.skins import Opal
from stackview.sight.camera import Camera, project

_MARGIN = 16
"""Pixels about a plate that are denoised with it."""
RIM = 3
"""Pixels about a plate that are rendered as finely as it."""
PIECE_WIDTH = 32
"""Width of the upright pieces that a plate's pixels are rendered in, so that a slanting slit costs no
more than a level one [px]."""


@dataclass(frozen=True, slots=True, eq=False)
class Plate:
    """An acrylic layer in sight.

    mask : (h, w) pixels that show nothing else; window : rows and columns about them;
    tiles : smaller windows that together hold all of them; sort : "sanded" if any face is;
    even : whether all that comes through it is spread evenly by its faces, so that it shows no fine detail.
    """

    name: str
    mask: NDArray[np.bool_]
    window: Window
    tiles: tuple[Window, ...]
    sort: Sort
    even: bool = False

    @property
    def pixels(self) -> int:
        """How many pixels the tiles have."""
        return sum((rows.stop - rows.start) * (columns.stop - columns.start) for rows, columns in self.tiles)

    @property
    def places(self) -> tuple[Whole, Whole]:
        """Rows and columns (n,) of all pixels of the tiles, tile by tile."""
        grids = [np.mgrid[rows, columns].reshape(2, -1) for rows, columns in self.tiles]
        found = np.concatenate(grids, axis=1).astype(np.int64)
        return found[0], found[1]


def acrylic_window(scene: GlowScene, camera: Camera) -> Window:
    """The rows and columns that can show an acrylic layer; none where there is none, or all lie beside the picture."""
    corners = [
        project(camera, part.solid.vertices)
        for part in scene.placed
        if part.is_layer and not part.opaque and len(part.solid.vertices)
    ]
    if not corners:
        return slice(0, 0), slice(0, 0)
    places = np.concatenate(corners)
    low = np.clip(np.floor(places.min(axis=0)), 0, camera.size).astype(int).tolist()
    high = np.clip(np.ceil(places.max(axis=0)), 0, camera.size).astype(int).tolist()
    return slice(low[1], high[1]), slice(low[0], high[0])


def plates_in_sight(scene: GlowScene, seen: FirstSeen, camera: Camera) -> list[Plate]:
    """Acrylic layers that fill enough of the picture, from the bottom up, without their landings."""
    found = []
    for number, part in enumerate(scene.placed):
        if part.is_layer and not part.opaque:
            mask = without_landings(scene.landings, number, camera, (seen.part == number) & seen.whole)
            if mask.sum() >= LEAST_PIXELS:
                even = _spreads(scene, number)
                found.append(Plate(part.name, mask, about(mask, _MARGIN), tiles_of(mask), part.sort, even))
    return found


def _spreads(scene: GlowScene, number: int) -> bool:
    """Whether all faces of a part are opal through which nothing passes straight."""
    skins = {body.skin for body in scene.bodies if body.part == number}
    return all(isinstance(skin, Opal) and skin.straight <= 0.0 for skin in skins)


def about(mask: NDArray[np.bool_], margin: int) -> Window:
    """The rows and columns of a mask (h, w) that has any pixel, with a margin."""
    rows, columns = (np.flatnonzero(mask.any(axis=axis)) for axis in (1, 0))
    return (
        slice(max(int(rows[0]) - margin, 0), min(int(rows[-1]) + margin + 1, mask.shape[0])),
        slice(max(int(columns[0]) - margin, 0), min(int(columns[-1]) + margin + 1, mask.shape[1])),
    )


def with_rim(mask: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """A mask (h, w) and what lies no more than :data:`RIM` pixels beside it, along rows and columns."""
    grown = mask.copy()
    for axis in (0, 1):
        whole = grown.copy()
        for step in range(1, RIM + 1):
            ahead = (slice(None),) * axis + (slice(step, None),)
            behind = (slice(None),) * axis + (slice(None, -step),)
            grown[ahead] |= whole[behind]
            grown[behind] |= whole[ahead]
    return grown


def tiles_of(mask: NDArray[np.bool_]) -> tuple[Window, ...]:
    """Windows that do not overlap and together hold every pixel of a mask (h, w) with a rim.

    Upright pieces :data:`PIECE_WIDTH` pixels wide, each as tall as the mask is there.
    """
    rows, columns = about(mask, RIM)
    found = []
    for left in range(columns.start, columns.stop, PIECE_WIDTH):
        right = min(left + PIECE_WIDTH, columns.stop)
        # What lies just beside a piece has its rim in it.
        near = np.asarray(mask[:, max(left - RIM, 0) : right + RIM].any(axis=1))
        for top, bottom in _runs(near, 2 * RIM):
            found.append(
                (
                    slice(max(top - RIM, rows.start), min(bottom + RIM, rows.stop)),
                    slice(left, right),
                )
            )
    return tuple(found)


def _runs(mask: NDArray[np.bool_], gap: int) -> list[tuple[int, int]]:
    """Starts and ends of runs of a mask (n,), those less than ``gap`` apart together."""
    at = np.flatnonzero(mask)
    if not at.size:
        return []
    cuts = np.flatnonzero(np.diff(at) > gap)
    return list(zip(at[np.r_[0, cuts + 1]].tolist(), (at[np.r_[cuts, -1]] + 1).tolist(), strict=True))
