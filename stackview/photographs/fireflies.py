"""Single glaring pixels that a renderer's chance leaves, taken out of a picture."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.light.colour import LUMINANCE
from stackview.stills.local_tone import box_sum

_TIMES = 8.0
"""A pixel this many times brighter than all but one of its neighbours stands alone."""
_LEAST = 1e-6
_ABOUT = 1 / 70
"""Half-width of the window that a lone way outshines, over the shorter side."""


def without_lone_ways(image: Singles, true_points: NDArray[np.bool_]) -> Singles:
    """Image (h, w, 3) without those single pixels that have more light than all else for some way about them.

    Where light comes by few ways, as deep in a gap, every one of them stands alone, and together they are its light:
    those stay. ``true_points`` (h, w) as for :func:`without_fireflies`.
    """
    luminance = (image @ LUMINANCE).astype(np.float64)
    about = box_sum(luminance, max(3, round(_ABOUT * min(luminance.shape))))
    lone = (luminance > 0.5 * about)[..., None]
    return np.asarray(np.where(lone, without_fireflies(image, true_points), image), np.float32)


def without_fireflies(image: Singles, true_points: NDArray[np.bool_] | None = None) -> Singles:
    """Image (h, w, 3) in which no pixel outshines all but one of its eight neighbours by far.

    Such a pixel is dimmed to the second brightest neighbour, its colour being that neighbourhood's
    median; nothing is made brighter. A line of light, however thin, has two bright pixels beside
    each of its own, and stays but for the last at a free end. Where ``true_points`` (h, w) is set,
    a single bright pixel is believed: bare light points and clear plates.
    """
    luminance = image @ LUMINANCE
    rim = np.pad(luminance, 1, mode="reflect")
    height, width = luminance.shape
    places = [(down, across) for down in range(3) for across in range(3) if (down, across) != (1, 1)]
    around = np.stack([rim[down : down + height, across : across + width] for down, across in places])
    second = np.partition(around, 6, axis=0)[6]
    alone = luminance > np.maximum(second * np.float32(_TIMES), _LEAST)
    if true_points is not None:
        alone &= ~true_points
    found = image.copy()
    rows, columns = np.nonzero(alone)
    padded = np.pad(image, ((1, 1), (1, 1), (0, 0)), mode="reflect")
    near = np.stack([padded[rows + down, columns + across] for down, across in places])
    middle = np.median(near, axis=0)
    level = second[rows, columns] / np.maximum(middle @ LUMINANCE, _LEAST)
    # Where the neighbourhood is black its colour says nothing; the pixel's own is kept.
    own = image[rows, columns] * (second[rows, columns] / luminance[rows, columns])[:, None]
    dark = (middle @ LUMINANCE) <= _LEAST
    found[rows, columns] = np.where(dark[:, None], own, middle * level[:, None])
    return np.asarray(found, np.float32)
