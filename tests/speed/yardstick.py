"""The exact sphere's kind of work in plain numpy: what that is held against, on the same machine in the same minute.

Both find silhouettes, reckon where they cross lines, sort the crossings and count along them, in runs of light points and
on as many threads. A machine that sorts quickly or reckons slowly does so in both, where rays by Embree tell of another
machine. Nothing here is asked of the program, so that more crossings than the lamp has show as well as dearer ones.
"""

import os
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
import trimesh

from stackview.arrays import Floats, Whole
from stackview.stack.placed import Placed

RUN = 8
"""Light points worked out together."""
FOR_PLACE = 22
"""Bits of a packed crossing that tell its place; as many tell its elevation."""


@dataclass(frozen=True, slots=True)
class Meshes:
    """All parts: vertices (v, 3) [mm], triangles' normals (m, 3) and offsets (m,), edges' ends and triangles (e, 2)."""

    vertices: Floats
    normals: Floats
    offsets: Floats
    ends: Whole
    beside: Whole


def meshes(placed: Sequence[Placed]) -> Meshes:
    parts = [trimesh.Trimesh(one.solid.vertices, one.solid.triangles, process=False) for one in placed]
    whole = trimesh.util.concatenate(parts)
    normals = np.ascontiguousarray(whole.face_normals)
    offsets = (normals * whole.triangles[:, 0]).sum(axis=1)
    return Meshes(
        np.array(whole.vertices), normals, offsets, whole.face_adjacency_edges, whole.face_adjacency
    )


def plain_sphere(whole: Meshes, centres: Floats, bearings: int) -> None:
    """Reckon and sort all crossings of silhouettes, seen from (n, 3) [mm], with lines upright at even bearings."""
    runs = [centres[start : start + RUN] for start in range(0, len(centres), RUN)]
    with ThreadPoolExecutor(min(os.cpu_count() or 1, 4, len(runs))) as pool:
        list(pool.map(lambda run: _reckoned(whole, run, bearings), runs))


def _reckoned(whole: Meshes, centres: Floats, bearings: int) -> tuple[Whole, Floats]:
    found = [_silhouettes(whole, centre, number, bearings) for number, centre in enumerate(centres)]
    start, count, slope = (np.concatenate(columns) for columns in zip(*found, strict=True))
    place = np.arange(int(count.sum()))
    line = place + np.repeat(start - (np.cumsum(count) - count), count)
    turn = np.arange(bearings * (len(centres) + 1)) * (2.0 * np.pi / bearings)
    tangent = np.repeat(slope, count) * np.sin(turn)[line]
    tangent += np.repeat(slope, count) * np.cos(turn)[line]
    elevation = np.arctan(tangent)
    steps = (elevation * (1 << (FOR_PLACE - 2))).astype(np.int64)
    packed = (((line << FOR_PLACE) + steps) << FOR_PLACE) + place
    packed.sort()
    order = packed & ((1 << FOR_PLACE) - 1)
    return np.cumsum(line[order]), elevation[order]


def _silhouettes(whole: Meshes, centre: Floats, number: int, bearings: int) -> tuple[Whole, Whole, Floats]:
    """Of each silhouette edge the first line that it crosses, how many, and a slope."""
    turned_to = whole.normals @ centre > whole.offsets
    own = whole.ends[turned_to[whole.beside[:, 0]] != turned_to[whole.beside[:, 1]]]
    offset = whole.vertices - centre
    at = np.arctan2(offset[:, 0], -offset[:, 1]) * (bearings / (2.0 * np.pi))
    low, high = np.sort(at[own], axis=1).T
    # Over the back the short way round is the rest.
    back = high - low > bearings / 2.0
    low, high = np.ceil(np.where(back, high, low)), np.ceil(np.where(back, low + bearings, high))
    some = high > low
    start = low[some].astype(np.int64) % bearings + number * bearings
    return start, (high - low)[some].astype(np.int64), offset[own[some, 0], 2]
