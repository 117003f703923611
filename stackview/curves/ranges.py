"""Runs of whole numbers, one after the other: how pairs of many things are listed without a loop."""

import numpy as np
from numpy.typing import NDArray


def ranges(start: NDArray[np.int64], count: NDArray[np.int64]) -> NDArray[np.int64]:
    """``count`` (n,) numbers from each ``start`` (n,) on, one after the other: (Σ count,).

    >>> ranges(np.array([5, 0]), np.array([2, 3])).tolist()
    [5, 6, 0, 1, 2]
    """
    ends = np.cumsum(count)
    at = np.repeat(start - ends + count, count)
    at += np.arange(len(at))
    return at
