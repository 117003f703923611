"""Light at corners carried over to their neighbours: into the dark of joints, and within a body."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.stills.refine import Facets

CELLS_A_REACH = 2
"""Fineness of the grid on which light is spread within a body."""


def filled(mesh: Facets, values: Singles, buried: NDArray[np.bool_]) -> Singles:
    """Values (c, k) with buried corners set from their neighbours that are not, ring by ring.

    A corner under another part is dark; left so, its darkness would reach out over the joint
    along the triangle that it shares with a corner in the light.
    """
    known = ~buried
    values = np.where(known[:, None], values, 0.0).astype(np.float32)
    for _ in range(6):
        if known.all():
            break
        total, number = _around(mesh, values, known)
        new = ~known & (number > 0)
        values[new] = total[new] / number[new, None]
        known = known | new
    return values


def smoothed(mesh: Facets, values: Singles, times: int) -> Singles:
    """Values (c, k) drawn half-way to the mean of their neighbours, ``times`` times."""
    every = np.ones(len(values), np.bool_)
    for _ in range(times):
        total, number = _around(mesh, values, every)
        values = (0.5 * values + 0.5 * total / np.maximum(number, 1)[:, None]).astype(np.float32)
    return values


def spread_light(mesh: Facets, values: Singles, reach: NDArray[np.float64]) -> Singles:
    """Values (c, k) as light that spreads within each body over about ``reach`` (parts,) [mm].

    Spread on a coarse grid in space and not from corner to corner: long triangles would draw it
    out into streaks. Parts whose reach is 0 keep their values.
    """
    out = np.array(values)
    sizes = np.linalg.norm(_crosses(mesh), axis=1) / 6.0
    weight = np.bincount(mesh.corner.ravel(), np.repeat(sizes, 3), len(values)).astype(np.float64)
    for part in np.unique(mesh.owner):
        mine = np.flatnonzero(mesh.owner == part)
        if reach[part] > 0:
            places = mesh.vertices[mesh.at[mine]] / (reach[part] / CELLS_A_REACH)
            out[mine] = _spread_one(places - places.min(axis=0), weight[mine], values[mine])
    return out


def _crosses(mesh: Facets) -> Singles:
    a, b, c = (mesh.vertices[mesh.triangles[:, k]] for k in range(3))
    return np.asarray(np.cross(b - a, c - a), np.float32)


def _spread_one(places: Singles, weight: NDArray[np.float64], values: Singles) -> Singles:
    """Values (n, k) at ``places`` (n, 3), in cells, as means over the cells around them."""
    shape = tuple(int(n) + 2 for n in places.max(axis=0))
    low = places.astype(np.int64)
    part = places - low
    cells, shares = [], []
    for dx, dy, dz in np.ndindex(2, 2, 2):
        corner = low + np.array([dx, dy, dz])
        cells.append(np.ravel_multi_index(tuple(corner.T), shape))
        shares.append(np.abs(1 - np.array([dx, dy, dz]) - part).prod(axis=1))
    columns = np.concatenate([values, np.ones((len(values), 1), np.float32)], axis=1) * weight[:, None]
    read = []
    for column in columns.T:
        total = np.zeros(int(np.prod(shape)))
        for cell, share in zip(cells, shares, strict=True):
            total += np.bincount(cell, share * column, len(total))
        soft = _softened(total.reshape(shape)).ravel()
        read.append(sum(soft[cell] * share for cell, share in zip(cells, shares, strict=True)))
    around = np.stack(read, axis=1)
    return np.asarray(around[:, :-1] / np.maximum(around[:, -1:], 1e-12), np.float32)


def _softened(grid: NDArray[np.float64]) -> NDArray[np.float64]:
    """Blur a grid with a Gaussian whose standard deviation is CELLS_A_REACH cells; nothing lies outside."""
    steps = np.arange(-3 * CELLS_A_REACH, 3 * CELLS_A_REACH + 1)
    taps = np.exp(-(steps**2) / (2.0 * CELLS_A_REACH**2))
    for axis in range(3):
        line = np.moveaxis(grid, axis, 0)
        padded = np.pad(line, [(len(steps) // 2,) * 2, (0, 0), (0, 0)])
        moved = sum(tap * padded[k : k + len(line)] for k, tap in enumerate(taps))
        grid = np.moveaxis(np.asarray(moved), 0, axis)
    return grid


def _around(mesh: Facets, values: Singles, known: NDArray[np.bool_]) -> tuple[Singles, Singles]:
    """Sum of the known neighbours' values at every corner (c, k), and their number (c,)."""
    start = mesh.corner.ravel()
    ends = [np.roll(mesh.corner, -turn, axis=1).ravel() for turn in (1, 2)]
    here, there = np.concatenate([start, start]), np.concatenate(ends)
    counted = known[there]
    here, there = here[counted], there[counted]
    count = len(values)
    number = np.bincount(here, minlength=count).astype(np.float32)
    columns = [np.bincount(here, values[there, k], count) for k in range(values.shape[1])]
    return np.stack(columns, axis=1).astype(np.float32), number
