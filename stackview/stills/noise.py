"""Smooth periodic noise, the same on every machine, looked up on two coordinates."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles

Values = NDArray[np.floating] | np.floating

NOISE_CELLS = 256


@cache
def _table() -> Singles:
    # Integer hashing and not a random generator, whose stream could change between versions.
    k = np.arange(NOISE_CELLS * NOISE_CELLS, dtype=np.uint32)
    for shift, factor in ((16, 0x7FEB352D), (15, 0x846CA68B)):
        k = (k ^ (k >> np.uint32(shift))) * np.uint32(factor)
    k ^= k >> np.uint32(16)
    values = (k / np.float64(2**32) * 2.0 - 1.0).astype(np.float32).reshape(NOISE_CELLS, NOISE_CELLS)
    values.setflags(write=False)
    return values


def noise(x: Values, y: Values) -> Singles:
    """Value noise −1 to 1, one cell a unit, smooth between cells; any broadcastable shape."""
    table = _table()
    column, row = np.floor(x), np.floor(y)
    u, v = x - column, y - row
    u, v = u * u * (3 - 2 * u), v * v * (3 - 2 * v)
    i, j = column.astype(np.int64) & (NOISE_CELLS - 1), row.astype(np.int64) & (NOISE_CELLS - 1)
    k, m = (i + 1) & (NOISE_CELLS - 1), (j + 1) & (NOISE_CELLS - 1)
    low = table[j, i] * (1 - u) + table[j, k] * u
    high = table[m, i] * (1 - u) + table[m, k] * u
    return np.asarray(low * (1 - v) + high * v, np.float32)


def fractal(x: Values, y: Values, octaves: int) -> Singles:
    """Sum of noise at doubling frequency and halving weight, −1 to 1."""
    total: Singles = np.zeros(np.broadcast(x, y).shape, np.float32)
    weight, whole = np.float32(1.0), np.float32(0.0)
    for octave in range(octaves):
        scale, shift = np.float32(2.03**octave), np.float32(37.7 * octave)
        total = total + weight * noise(x * scale + shift, y * scale - shift)
        whole += weight
        weight *= np.float32(0.5)
    return np.asarray(total / whole, np.float32)
