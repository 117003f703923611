"""Bright and dark in one picture: wide steps of luminance made smaller, fine detail left as it is."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.light.colour import LUMINANCE

_DECADES = 1.4
"""How far the darkest parts are left below the lit ones; with what is brighter somewhat over two decades in all."""
_DARKEST = 2.0
"""Share of the picture that may be darker still [%]."""
_RADIUS = 1 / 14
"""Half-width of the filter's windows, over the picture's shorter side."""
_STEP = 0.22
"""Steps of luminance smaller than this count as detail, larger ones as edges [decades]."""
_KEPT = 0.85
"""Power of the colours' ratios, so that darkened lights do not look dyed."""


def compressed(image: Singles, level: float, floor: float, decades: float = _DECADES) -> Singles:
    """Image (h, w, 3) [cd/m²] whose darker parts lie at most ``decades`` under ``level``.

    The logarithm of luminance is split by a guided filter into a base and detail; only the base
    is compressed (Durand & Dorsey, "Fast bilateral filtering for the display of high-dynamic-range
    images", SIGGRAPH 2002, with this filter in place of theirs). What has the luminance ``level``
    keeps it: darker parts are raised, brighter ones lowered. Luminances under ``floor`` count as it.
    """
    luminance = np.maximum(image @ LUMINANCE, np.float32(floor))
    logarithm = np.log10(luminance)
    base = guided(logarithm, max(1, round(_RADIUS * min(logarithm.shape))), _STEP**2)
    under = np.log10(level) - float(np.percentile(base, _DARKEST))
    share = min(1.0, decades / max(under, 1e-6))
    change = (1.0 - share) * (np.log10(level) - base)
    ratio = np.maximum(image, 0.0) / luminance[..., None]
    power = np.float32(_KEPT if share < 1.0 else 1.0)
    return np.asarray(ratio**power * (luminance * 10.0**change)[..., None], np.float32)


def guided(values: NDArray[np.floating], radius: int, smooth: float) -> NDArray[np.float64]:
    """Smooth an image (h, w) but for its own edges: He, Sun & Tang, "Guided image filtering".

    IEEE Trans. Pattern Anal. Mach. Intell. 35(6), 1397 (2013), eq. 5, 6 and 8, the image being its
    own guide: in windows of (2·radius + 1)² pixels what varies by much more than ``smooth``, a
    variance, is kept.
    """
    own = np.asarray(values, np.float64)
    count = box_sum(np.ones_like(own), radius)
    mean = box_sum(own, radius) / count
    variance = np.maximum(box_sum(own * own, radius) / count - mean * mean, 0.0)
    slope = variance / (variance + smooth)
    shift = mean * (1.0 - slope)
    return np.asarray((box_sum(slope, radius) * own + box_sum(shift, radius)) / count)


def box_sum(values: NDArray[np.float64], radius: int) -> NDArray[np.float64]:
    """Sum over the window about each pixel, as far as it lies in the picture: by running sums."""
    for axis in (0, 1):
        length = values.shape[axis]
        run = np.insert(np.cumsum(values, axis=axis), 0, 0.0, axis=axis)
        place = np.arange(length)
        after, before = np.minimum(place + radius + 1, length), np.maximum(place - radius, 0)
        values = np.take(run, after, axis) - np.take(run, before, axis)
    return values
