"""Gaussian blur of luminance within a mask, as an eye or a surround takes it in."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import quick_length

FULL_WIDTH = float(2.0 * np.sqrt(2.0 * np.log(2.0)))
"""Full width at half height of a Gaussian, in standard deviations."""


def masked_blur(values: NDArray[np.float64], mask: NDArray[np.bool_], sigma: float) -> NDArray[np.float64]:
    """Mean of the masked values (h, w) about each pixel, weighted by a Gaussian of ``sigma`` [px].

    Normalised convolution (Knutsson & Westin 1993): what lies outside the mask counts nothing.
    Zero where no masked pixel is near; a sigma of 0 leaves the masked values as they are, one of infinity gives
    the mean over the mask.
    """
    inside = np.where(mask, values, 0.0)
    if sigma <= 0.0:
        return inside
    if not np.isfinite(sigma):
        return np.full(values.shape, inside.sum() / max(float(mask.sum()), 1.0))
    light, near = _blurred(np.stack([inside, mask.astype(np.float64)]), sigma)
    return np.asarray(np.where(near > 1e-6, light / np.maximum(near, 1e-6), 0.0))


def _blurred(pictures: NDArray[np.float64], sigma: float) -> NDArray[np.float64]:
    """Pictures (k, h, w), blurred."""
    # Far enough padded that nothing comes round from the other side.
    shape = pictures.shape[1:]
    pad = min(int(np.ceil(4.0 * sigma)) + 1, max(shape))
    height, width = (quick_length(side + pad) for side in shape)
    down, across = np.fft.fftfreq(height), np.fft.rfftfreq(width)
    waves = np.fft.rfft2(pictures, (height, width))
    waves *= np.exp(-2.0 * (np.pi * sigma * down[:, None]) ** 2)
    waves *= np.exp(-2.0 * (np.pi * sigma * across) ** 2)
    spread = np.fft.irfft2(waves, (height, width))
    return np.asarray(np.maximum(spread[:, : shape[0], : shape[1]], 0.0))
