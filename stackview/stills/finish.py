"""From radiance to a finished picture: frosted blur, bloom, the film's curve."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles, quick_length
from stackview.light.colour import LUMINANCE, encode
from stackview.stills.workers import in_pieces

_TWO = np.array([[0, 2], [3, 1]])
_FOUR = np.block([[4 * _TWO + step for step in row] for row in _TWO])
_ORDER = np.block([[4 * _FOUR + step for step in row] for row in _TWO])
DITHER = ((_ORDER + 0.5) / 64.0).astype(np.float32)
"""Thresholds (8, 8) of Bayer's ordered dither (B. E. Bayer, IEEE Int. Conf. Communications, 1973)."""
_ROWS_AT_ONCE = 64
_COARSE = 300
"""Wide blurs work on a picture shrunk to about this many pixels along its shorter side."""
_WHITE, _FULLEST = 0.85, 12.0
"""Luminance above which light spreads, and the most of it that does."""


def blurred(image: Singles, widths: list[tuple[float, float]]) -> Singles:
    """Image (h, w, c) blurred by a weighted sum of Gaussians, each (weight, standard deviation [px]).

    By Fourier transform with the whole kernel, so that no square or edge of a cut kernel shows; a
    standard deviation of 1.3 px or more leaves no ringing of the transform either (exp(−2π²σ²/4));
    beyond the rim the picture is taken as dark.
    """
    height, width, _ = image.shape
    reach = int(3.5 * max(sigma for _, sigma in widths)) + 2
    tall, wide = (quick_length(n + reach) for n in (height, width))
    fy, fx = np.fft.fftfreq(tall)[:, None], np.fft.rfftfreq(wide)[None]
    square = (fx * fx + fy * fy).astype(np.float32)
    kernel = sum(
        weight * np.exp(np.float32(-2.0 * (np.pi * sigma) ** 2) * square) for weight, sigma in widths
    )
    spectrum = np.fft.rfft2(image, s=(tall, wide), axes=(0, 1)) * np.asarray(kernel)[:, :, None]
    return np.asarray(np.fft.irfft2(spectrum, s=(tall, wide), axes=(0, 1))[:height, :width], np.float32)


def shrunk(image: Singles, by: int) -> Singles:
    """Image (h, w, c) as means of blocks of ``by`` pixels; the last row and column are repeated."""
    height, width, channels = image.shape
    padded = np.pad(image, ((0, -height % by), (0, -width % by), (0, 0)), mode="edge")
    rows, columns = padded.shape[0] // by, padded.shape[1] // by
    return np.asarray(padded.reshape(rows, by, columns, by, channels).mean(axis=(1, 3)), np.float32)


def grown(image: Singles, by: int, height: int, width: int) -> Singles:
    """Image (h, w, c) enlarged ``by`` times between pixel middles, cut to (height, width)."""
    if by == 1:
        return image[:height, :width]
    for axis, length in ((0, height), (1, width)):
        place = np.clip((np.arange(length) + 0.5) / by - 0.5, 0, image.shape[axis] - 1)
        low = np.minimum(place.astype(np.int64), max(image.shape[axis] - 2, 0))
        high = np.minimum(low + 1, image.shape[axis] - 1)
        share = (place - low).astype(np.float32).reshape((-1, 1, 1) if axis == 0 else (1, -1, 1))
        image = np.take(image, low, axis) * (1 - share) + np.take(image, high, axis) * share
    return image


def frosted_over(front: Singles, behind: Singles, frosted: Singles, sigma: float) -> Singles:
    """Front radiance (h, w, 3) with what stands behind frosted faces blurred by ``sigma`` [px].

    The blur is shared out only among frosted pixels (h, w), so nothing dark or bright from
    beside the sheet runs into it.
    """
    rows, columns = np.flatnonzero(frosted.any(axis=1)), np.flatnonzero(frosted.any(axis=0))
    if len(rows) == 0:
        return front + behind
    box = slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)
    mask = frosted[box][:, :, None]
    height, width = mask.shape[:2]
    by = max(1, int(sigma / 2.5))
    small = shrunk(np.concatenate([behind[box], mask], axis=2), by)
    soft = grown(blurred(small, [(1.0, sigma / by)]), by, height, width)
    out = front.copy()
    out[box] += soft[:, :, :3] / np.maximum(soft[:, :, 3:], 1e-3) * mask
    return np.asarray(out, np.float32)


def dimmed_to(light: Singles, most: float) -> Singles:
    """Light (…, 3) whose luminance is at most ``most``, its hue kept.

    Cut off channel by channel, warm light would lose its red first and turn yellow, then green.
    """
    luminance = (light @ LUMINANCE)[..., None]
    return np.asarray(light * (np.float32(most) / np.maximum(luminance, np.float32(most))), np.float32)


def bloomed(image: Singles, share: float) -> Singles:
    """Image (h, w, 3) with the light above white spread a little, as in a lens, in its own colour."""
    height, width, _ = image.shape
    by = max(1, round(min(height, width) / _COARSE))
    luminance = (image @ LUMINANCE)[..., None]
    above = np.clip(luminance - _WHITE, 0.0, _FULLEST) / np.maximum(luminance, _WHITE)
    bright = shrunk(np.asarray(np.maximum(image, 0.0) * above, np.float32), by)
    unit = max(min(height, width) / by, 1.0)
    spread = blurred(
        bright,
        [(0.55, max(0.004 * unit, 1.3)), (0.30, max(0.014 * unit, 1.3)), (0.15, max(0.05 * unit, 1.3))],
    )
    return np.asarray(
        image + np.float32(share * 4.0) * np.maximum(grown(spread, by, height, width), 0.0), np.float32
    )


def developed(image: Singles, exposure: float) -> NDArray[np.uint8]:
    """8-bit picture (h, w, 3) of radiance through a filmic curve.

    K. Narkowicz, "ACES filmic tone mapping curve", 2016: (x(ax + b))/(x(cx + d) + e) with his
    constants. 0.8 of the radiance goes in, as he advises for the curve's own exposure.
    """
    columns = np.arange(image.shape[1])[None] % 8

    def band(rows: slice) -> NDArray[np.uint8]:
        x = np.maximum(image[rows], 0.0) * np.float32(0.8 * exposure)
        curved = (x * (2.51 * x + 0.03)) / (x * (2.43 * x + 0.59) + 0.14)
        down = np.arange(rows.start, rows.stop)[:, None] % 8
        return encode(curved, DITHER[down, columns][:, :, None])

    return np.concatenate(in_pieces(band, image.shape[0], _ROWS_AT_ONCE))
