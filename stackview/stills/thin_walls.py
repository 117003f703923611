"""Light that is kept at corners some millimetres apart would leak under a wall thinner than that: finer corners there."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles, Whole
from stackview.solids.smooth import edges, joined_by_pairs
from stackview.stills.exchange import lit_from
from stackview.stills.gather import World, in_the_dark
from stackview.stills.refine import MOST_TRIANGLES, Facets, split_again

_TIMES = 3
"""How often edges that run under a wall are halved, at most: from 7 mm to less than one."""


def parted(walls: Facets, world_of: Callable[[Facets], World]) -> tuple[Facets, World]:
    """Walls whose triangles do not run from light to light under a thin wall, and the world that rays meet with them.

    A triangle under a thick wall has a corner that is covered, and its light is taken from its own side.
    """
    world = world_of(walls)
    for _ in range(_TIMES):
        crossing = _crossing(walls, world)
        if not crossing.any() or len(walls.triangles) > MOST_TRIANGLES:
            break
        walls = split_again(walls, crossing)
        world = world_of(walls)
    return walls, world


def _crossing(walls: Facets, world: World) -> NDArray[np.bool_]:
    """Which triangles (m,) have an edge that passes through a part from one corner in the open to another."""
    at = lit_from(walls)
    ends, side = edges(walls.corner)
    met = np.flatnonzero(_blocked(at, ends, world))
    asked = np.unique(ends[met])
    dark = np.zeros(len(at), np.bool_)
    dark[asked] = in_the_dark(at[asked], walls.normals[asked], world)
    crossing = np.zeros(len(ends), np.bool_)
    crossing[met] = ~dark[ends[met]].any(axis=1)
    return np.asarray(crossing[side].any(axis=1))


def _blocked(at: Singles, ends: Whole, world: World) -> NDArray[np.bool_]:
    """Whether anything opaque stands between the ends (e, 2) of each edge."""
    along = at[ends[:, 1]] - at[ends[:, 0]]
    length = np.maximum(np.linalg.norm(along, axis=1), 1e-6).astype(np.float32)
    way = np.ascontiguousarray(along / length[:, None], np.float32)
    return world.walls.blocked(np.ascontiguousarray(at[ends[:, 0]]), way, length)


def stretches(walls: Facets, world: World) -> Whole:
    """Which stretch of surface each corner (c,) belongs to, by number; −1 for one that is covered.

    What another part stands on lies in several: before its wall, and behind it.
    """
    at = lit_from(walls)
    free = ~in_the_dark(at, walls.normals, world)
    ends, _ = edges(walls.corner)
    ends = ends[free[ends].all(axis=1)]
    ends = ends[~_blocked(at, ends, world)]
    return np.where(free, joined_by_pairs(len(at), ends[:, 0], ends[:, 1]), -1)
