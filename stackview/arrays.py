"""The kinds of arrays that are passed about, by what they hold; shapes and units stand where they are passed."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
"""Geometry and light, where a rounding error could be seen."""
Singles = NDArray[np.float32]
"""Pictures and rays, where seven figures are enough and there are millions of them."""
Whole = NDArray[np.int64]
"""Counts and places in other arrays."""
Ints = NDArray[np.int32]
"""The same as Embree gives them."""
Yes = NDArray[np.bool_]
"""Which of them."""
Bytes = NDArray[np.uint8]
"""Pictures as they are shown."""


def read_only(values: Iterable[object]) -> None:
    """Make read-only whatever of the values is an array: what is kept must not be changed by who is given it.

    >>> lengths = np.arange(3.0)
    >>> read_only((lengths, "mm"))
    >>> lengths.flags.writeable
    False
    """
    for value in values:
        if isinstance(value, np.ndarray):
            value.setflags(write=False)


def keep_freed_memory() -> None:
    """Let the process keep the memory of arrays up to some megabytes that it frees, for the next ones.

    The C library of Linux hands every larger piece back to the system at once, and takes it anew page by
    page, until it has seen one of that size freed (mallopt(3), M_MMAP_THRESHOLD: "dynamic"). Where
    arrays of half a megabyte come and go thousands of times, that was half of their time.
    """
    np.empty(30_000_000, np.uint8)


def quick_length(least: int) -> int:
    """The least length from here on that 2, 3 and 5 make up: transforms of others take several times as long."""
    length = least
    while True:
        rest = length
        for factor in (2, 3, 5):
            while rest % factor == 0:
                rest //= factor
        if rest == 1:
            return length
        length += 1
