"""Gaussian blur of luminance within a mask, as an eye or a surround takes it in."""

import numpy as np
from numpy.typing import NDArray

FULL_WIDTH = float(2.0 * np.sqrt(2.0 * np.log(2.0)))
"""Full width at half height of a Gaussian, in standard deviations."""


def masked_blur(values: NDArray[np.float64], mask: NDArray[np.bool_], sigma: float) -> NDArray[np.float64]:
    """Mean of the masked values (h, w) about each pixel, weighted by a Gaussian of ``sigma`` [px].

    Normalised convolution (Knutsson & Westin 1993): what lies outside the mask counts nothing.
    Zero where no masked pixel is near; a sigma of infinity gives the mean over the mask.
    """
    weights = mask.astype(np.float64)
    inside = np.where(mask, values, 0.0)
    if not np.isfinite(sigma):
        return np.full(values.shape, inside.sum() / max(weights.sum(), 1.0))
    near = _blurred(weights, sigma)
    return np.asarray(np.where(near > 1e-6, _blurred(inside, sigma) / np.maximum(near, 1e-6), 0.0))


def _blurred(values: NDArray[np.float64], sigma: float) -> NDArray[np.float64]:
    # Far enough padded that nothing comes round from the other side.
    pad = min(int(np.ceil(4.0 * sigma)) + 1, max(values.shape))
    height, width = values.shape[0] + pad, values.shape[1] + pad
    down, across = np.fft.fftfreq(height)[:, None], np.fft.rfftfreq(width)[None]
    kernel = np.exp(-2.0 * (np.pi * sigma) ** 2 * (down**2 + across**2))
    spread = np.fft.irfft2(np.fft.rfft2(values, (height, width)) * kernel, (height, width))
    return np.asarray(np.maximum(spread[: values.shape[0], : values.shape[1]], 0.0))
