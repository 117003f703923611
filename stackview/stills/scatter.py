"""Places within a pixel for more rays than one."""

import numpy as np
from numpy.typing import NDArray


def scattered(count: int) -> NDArray[np.float64]:
    """Evenly scattered places in a pixel (count, 2), 0 to 1: the R2 sequence (M. Roberts, 2018)."""
    plastic = 1.32471795724474602596
    k = np.arange(1, count + 1)[:, None]
    return np.asarray((0.5 + k * np.array([1 / plastic, 1 / plastic**2])) % 1.0)
