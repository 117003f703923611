"""What a lens, or an eye, does to bright light: points become spots, and a little is spread over all of the picture."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.glow.seen_light import bell_weights, blurred_across
from stackview.stills.finish import grown, shrunk

_SHARE = 0.015
"""Share of all light that a good lens spreads over the picture; an eye spreads more (from memory). Four hundredths laid
a haze of the slits' light on pale wood, brighter than the wood itself."""
CORES = ((0.55, 0.005), (0.45, 0.05))
"""Parts of the spread light, each (share, core radius over the picture's shorter side)."""
_COARSE = 400
"""The spread is worked out on a picture shrunk to about this many pixels along its shorter side."""
_LEAST_CORE = 1.3
"""A narrower core would show the coarse picture's squares [px]."""
_POINT = 0.6
"""Standard deviation of the spot that a good lens makes of a point [px].

Without it each pixel that a bright edge crosses shines by as much of it as it holds, and an aslant edge, a hundred times as
bright as wood, is a row of dots."""


def drawn_by_lens(image: Singles) -> Singles:
    """Image (h, w, 3) as fine as a lens draws it: every point a spot a pixel across; at the rim as beside it."""
    kernel = bell_weights(_POINT)
    pad = len(kernel) // 2
    beyond = np.pad(np.moveaxis(image, 2, 0), ((0, 0), (pad, pad), (pad, pad)), mode="edge")
    return np.ascontiguousarray(np.moveaxis(blurred_across(beyond, kernel)[:, pad:-pad, pad:-pad], 0, 2))


def glared(image: Singles, share: float = _SHARE) -> Singles:
    """Image (h, w, 3) with ``share`` of its light spread as by a lens; what leaves the frame is lost.

    The spread falls off as (1 + (r/a)²)^(−3/2): Moffat's profile of star images ("A theoretical
    investigation of focal stellar images", Astron. Astrophys. 3, 455, 1969) with β = 3/2, whose
    integral over the plane is 2πa². It is laid out over the whole frame and transformed on twice
    its size, so that it is nowhere cut and nothing comes round from the other side.
    """
    height, width, _ = image.shape
    by = max(1, round(min(height, width) / _COARSE))
    small = shrunk(image, by).astype(np.float64)
    tall, wide = small.shape[:2]
    spectrum = np.fft.rfft2(small, s=(2 * tall, 2 * wide), axes=(0, 1))
    spectrum *= np.fft.rfft2(_profile(tall, wide))[:, :, None]
    spread = np.fft.irfft2(spectrum, s=(2 * tall, 2 * wide), axes=(0, 1))[:tall, :wide]
    over = grown(np.asarray(np.maximum(spread, 0.0), np.float32), by, height, width)
    return np.asarray(image * np.float32(1.0 - share) + np.float32(share) * over, np.float32)


def _profile(tall: int, wide: int) -> NDArray[np.float64]:
    """The spread (2·tall, 2·wide) about the corner, as a transform wants it; its sum over the plane is 1."""
    down = np.minimum(np.arange(2 * tall), 2 * tall - np.arange(2 * tall))[:, None]
    across = np.minimum(np.arange(2 * wide), 2 * wide - np.arange(2 * wide))[None]
    square = (down * down + across * across).astype(np.float64)
    total = np.zeros((2 * tall, 2 * wide))
    for part, core in CORES:
        radius = max(core * min(tall, wide), _LEAST_CORE)
        total += part / (2.0 * np.pi * radius**2) * (1.0 + square / radius**2) ** -1.5
    return total
