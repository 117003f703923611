"""A square grid of values on the ground, and how it is read."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles

GRID_CELLS = 112


def grid(reach: float) -> Singles:
    """Points (CELLS², 3) of the grid over ±``reach`` [mm], just above the ground."""
    line = np.linspace(-reach, reach, GRID_CELLS)
    y, x = np.meshgrid(line, line, indexing="ij")
    return np.stack([x.ravel(), y.ravel(), np.full(x.size, 0.06)], axis=1).astype(np.float32)


def uncovered(values: Singles, covered: NDArray[np.bool_]) -> Singles:
    """Values (k², 3) with covered cells (k²,) set from their neighbours, ring by ring, as (k, k, 3).

    Under the lamp there is no light; a bilinear look-up just beside it must not reach there.
    """
    known = ~covered.reshape(GRID_CELLS, GRID_CELLS)
    square = np.where(known[:, :, None], values.reshape(GRID_CELLS, GRID_CELLS, 3), np.float32(0.0))
    for _ in range(4):
        total, number = np.zeros_like(square), np.zeros(known.shape, np.float32)
        for axis in (0, 1):
            for step in (-1, 1):
                near = np.roll(known, step, axis)
                total += np.roll(square, step, axis) * near[:, :, None]
                number += near
        new = ~known & (number > 0)
        square[new] = total[new] / number[new, None]
        known = known | new
    return np.asarray(square, np.float32)


def softened(values: Singles) -> Singles:
    """Values (k, k, 3) with each cell drawn three times towards its neighbours, weights 1 2 1 both ways."""
    for axis in (0, 1, 0, 1, 0, 1):
        values = 0.5 * values + 0.25 * (np.roll(values, 1, axis) + np.roll(values, -1, axis))
    return np.asarray(values, np.float32)


def faded(values: Singles, towards: float) -> Singles:
    """Values (k, k, 3) that run out to ``towards`` at the grid's rim."""
    line = np.linspace(-1, 1, GRID_CELLS)
    out = np.sqrt(line[:, None] ** 2 + line[None] ** 2)
    held = np.clip((1.0 - out) / 0.45, 0.0, 1.0)
    held = (held * held * (3 - 2 * held))[:, :, None]
    return np.asarray(values * held + towards * (1 - held), np.float32)


def on_ground(values: Singles, reach: float, x: Singles, y: Singles) -> Singles:
    """Values (n, 3) of a grid (k, k, 3) at (x, y) [mm], bilinear, held at the rim."""
    cells = len(values) - 1
    scale = np.float32(cells / (2 * reach))
    u = np.clip((x + np.float32(reach)) * scale, 0, cells - 0.001)
    v = np.clip((y + np.float32(reach)) * scale, 0, cells - 0.001)
    column, row = u.astype(np.int64), v.astype(np.int64)
    fu, fv = (u - column)[:, None], (v - row)[:, None]
    below = values[row, column] * (1 - fu) + values[row, column + 1] * fu
    above = values[row + 1, column] * (1 - fu) + values[row + 1, column + 1] * fu
    return np.asarray(below * (1 - fv) + above * fv, np.float32)
