"""The room behind the lamp as a lens leaves it: out of focus, and quite calm."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene, Shining, SkinFaces
from stackview.sight.camera import Camera, rays, starts
from stackview.solids.rays import target
from stackview.stills.finish import blurred, grown, shrunk

APERTURE = 56.0
"""Width of the lens's pupil [mm]: 85 mm at f/1.5, a portrait lens."""
_WIDEST = 0.05
"""Blur is held to this share of the picture's shorter side (standard deviation)."""
_FINEST = 1.3
_ACROSS = 4
"""Rays along each side of a pixel that the lamp's outline runs through."""


@dataclass(frozen=True, slots=True, eq=False)
class RoomSeen:
    """What of the room a camera sees. Read-only.

    depth : (h, w) how far away the room's first surface is [mm], infinite where there is nothing;
    share : (h, w) of each pixel that shows the room and not the lamp, 0 to 1.
    """

    depth: Singles
    share: Singles

    def __post_init__(self) -> None:
        for array in (self.depth, self.share):
            array.setflags(write=False)


def room_seen(scene: GlowScene, room: Room, camera: Camera) -> RoomSeen:
    """Find what of the room the lamp leaves to be seen; finely where its outline runs."""
    lamp = target(*_joined((*scene.bodies, *scene.lights)))
    around = target(*_joined(room.bodies))
    width, height = camera.size
    count = width * height

    def distances(columns: NDArray[np.floating], rows: NDArray[np.floating]) -> tuple[Singles, Singles]:
        origins = np.ascontiguousarray(starts(camera, columns, rows), np.float32)
        ways = rays(camera, columns, rows)
        return around.nearest(origins, ways).distance, lamp.nearest(origins, ways).distance

    index = np.arange(count)
    depth, before = distances(index % width + 0.5, index // width + 0.5)
    share = (before >= depth).astype(np.float32).reshape(height, width)
    outline = np.flatnonzero(_changes(share > 0.5).ravel())
    shift = (np.arange(_ACROSS) + 0.5) / _ACROSS
    across, down = (grid.ravel() for grid in np.meshgrid(shift, shift))
    far, near = distances(
        (outline[:, None] % width + across).ravel(), (outline[:, None] // width + down).ravel()
    )
    share.ravel()[outline] = (near >= far).reshape(-1, _ACROSS * _ACROSS).mean(axis=1)
    return RoomSeen(depth.reshape(height, width), share)


def _changes(mask: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Pixels (h, w) that do not agree with all of their neighbours."""
    rim = np.pad(mask, 1, mode="edge")
    height, width = mask.shape
    found = np.zeros_like(mask)
    for down in range(3):
        for across in range(3):
            found |= mask != rim[down : down + height, across : across + width]
    return found


def out_of_focus(image: Singles, room: RoomSeen, camera: Camera) -> Singles:
    """Image (h, w, 3) whose room lies out of focus, the lens being set to the lamp.

    A thin lens of pupil A set to a distance f spreads a point at d over A·|d − f|/d in the plane of
    focus (geometry). Room is blurred with room alone, so that nothing of the lamp runs into it;
    the lamp stays as it is, and where a pixel shows both its room's share is exchanged.
    """
    whole = room.share >= 1.0
    if camera.parallel or not whole.any():
        return image
    part = np.where(
        np.isfinite(room.depth), np.abs(room.depth - camera.distance) / np.maximum(room.depth, 1.0), 1.0
    )
    # A disc has the variance of a Gaussian of a quarter of its width.
    sigma = np.minimum(APERTURE * camera.scale * part / 4.0, _WIDEST * min(whole.shape))
    mixed = (room.share > 0.0) & ~whole
    before, low = image.copy(), 0.0
    before[mixed] = blurred_within(image, whole, _FINEST)[mixed]
    sharp, soft = before, before.copy()
    for step in _steps(float(sigma[room.share > 0.0].max())):
        after = blurred_within(image, whole, step)
        # Between two blurs their variances mix.
        rise = np.clip((sigma**2 - low**2) / (step**2 - low**2), 0.0, 1.0).astype(np.float32)[..., None]
        mine = (sigma > low) & (sigma <= step)
        soft[mine] = (before * (1 - rise) + after * rise)[mine]
        before, low = after, step
    return np.maximum(image + room.share[..., None] * (soft - sharp), np.minimum(image, 0.0))


def _steps(most: float) -> list[float]:
    if most <= 0.0:
        return []
    count = max(0, int(np.ceil(np.log2(max(most / _FINEST, 1.0)))))
    return [_FINEST * 2.0**k for k in range(count)] + [max(most, _FINEST)]


def blurred_within(image: Singles, mask: NDArray[np.bool_], sigma: float) -> Singles:
    """Image blurred among the pixels of a mask alone: normalised convolution (Knutsson & Westin 1993)."""
    height, width = mask.shape
    by = max(1, int(sigma / _FINEST))
    weight = mask[..., None].astype(np.float32)
    pad = int(3.0 * sigma) + 1
    both = np.pad(np.concatenate([image * weight, weight], axis=2), ((pad, pad), (pad, pad), (0, 0)), "edge")
    soft = grown(blurred(shrunk(both, by), [(1.0, sigma / by)]), by, height + 2 * pad, width + 2 * pad)
    soft = soft[pad : pad + height, pad : pad + width]
    return np.asarray(np.maximum(soft[..., :3], 0.0) / np.maximum(soft[..., 3:], 1e-3), np.float32)


def _joined(shapes: Sequence[SkinFaces | Shining]) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    starts_at = np.cumsum([0, *(len(shape.vertices) for shape in shapes)])
    vertices = [np.zeros((0, 3)), *(shape.vertices for shape in shapes)]
    triangles = [np.zeros((0, 3), np.int64)]
    triangles += [shape.triangles + start for shape, start in zip(shapes, starts_at, strict=False)]
    return np.concatenate(vertices), np.concatenate(triangles)
