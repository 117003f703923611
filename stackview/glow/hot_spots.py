"""Hot spots: how much brighter than its surround the brightest spot of each lit plate looks.

As an eye takes it in: luminance spread by the eye's own blur, over the mean of the plate within one
pitch of the light points. Measured on a picture whose pixels are as fine as the eye, without what lies on wood of a
plate that is lit from behind (:mod:`stackview.glow.landings`).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.glow.blur import FULL_WIDTH, masked_blur
from stackview.light.points import LightPoints
from stackview.sight.camera import Camera

_EYE_BLUR = 2.0
"""Full width of the eye's blur [minutes of arc]; detail of 1′ is just resolved (Campbell & Robson 1968)."""
FINEST = 1.05
"""Pixels no coarser than this keep the eye's blur well sampled [minutes of arc]."""
LEAST_PIXELS = 24
"""A plate that fills fewer pixels is not in sight."""
_NEAR = 2.5
"""How far from where a spot is expected it is looked for, in standard deviations of the eye's blur."""
MINUTE = np.pi / 180.0 / 60.0


@dataclass(frozen=True, slots=True)
class HotSpot:
    """One plate as it looks: ratio of brightest spot to surround, peak and mean luminance [cd/m²].

    ``at`` : (row, column) of the pixel with the greatest ratio.
    """

    ratio: float
    peak: float
    mean: float
    at: tuple[int, int]


def hot_spot(
    luminance: NDArray[np.float64],
    mask: NDArray[np.bool_],
    blur: float,
    surround: float,
    *,
    near: tuple[int, int] | None = None,
) -> HotSpot:
    """Hot-spot ratio of one plate, max of L₁/L₂.

    Parameters
    ----------
    luminance : (h, w) [cd/m²]
    mask : (h, w) the plate's pixels
    blur : standard deviation of the eye's blur [px], see :func:`eye_blur`
    surround : standard deviation of the surround [px], one pitch; infinite for a single light point
    near : (row, column) that the spot is looked for within :data:`_NEAR` of; else anywhere
    """
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    box = np.s_[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    values, own = np.asarray(luminance[box], np.float64), mask[box]
    seen, around = masked_blur(values, own, blur), masked_blur(values, own, surround)
    among = own
    if near is not None:
        rows, columns = rows[0] + np.arange(own.shape[0]), columns[0] + np.arange(own.shape[1])
        away = np.hypot(rows[:, None] - near[0], columns - near[1])
        among = own & (away <= max(_NEAR * blur, float(away[own].min())))
    found = brightest(seen, around, among)
    at = int(rows[0]) + found.at[0], int(columns[0]) + found.at[1]
    return HotSpot(found.ratio, found.peak, float(values[own].mean()), at)


def brightest(seen: NDArray[np.float64], around: NDArray[np.float64], mask: NDArray[np.bool_]) -> HotSpot:
    """The greatest ratio within a mask (h, w), of luminance as the eye sees it to that of its surround.

    The one definition of the ratio, wherever the two come from; ``mean`` is that of ``seen``.
    """
    ratio = np.where(mask, seen / np.maximum(around, 1e-9), 0.0) if around[mask].max() > 0 else mask * 1.0
    row, column = np.unravel_index(int(ratio.argmax()), ratio.shape)
    own = seen[mask]
    return HotSpot(float(ratio[row, column]), float(own.max()), float(own.mean()), (int(row), int(column)))


def eye_blur(camera: Camera) -> float:
    """Standard deviation of the eye's blur [px] in the middle of a camera's picture."""
    return _EYE_BLUR * MINUTE / camera.pixel / FULL_WIDTH


def pitch_of(points: LightPoints) -> float:
    """Usual distance from a light point to its nearest neighbour [mm]; infinite for a single one."""
    if len(points) < 2:
        return float("inf")
    nearest = np.empty(len(points))
    for start in range(0, len(points), 512):
        offset = points.centres[start : start + 512, None] - points.centres[None]
        away = np.sqrt((offset**2).sum(axis=2))
        away[np.arange(len(away)), start + np.arange(len(away))] = np.inf
        nearest[start : start + 512] = away.min(axis=1)
    return float(np.median(nearest))
