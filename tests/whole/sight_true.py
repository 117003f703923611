"""Sightlines against rays: straight lines from light points to eyes, met with every triangle in double precision."""

from random import Random

import numpy as np
from numpy.typing import NDArray

from stackview.sight.bands import HIDDEN, Kind
from stackview.study import Study

_LINES = 24
_ASIDE = 1e-4
"""[mm] by which a line is moved sideways: where that matters it runs along an edge, and is not judged."""


def check_sightlines(study: Study, seed: int) -> int:
    """What eyes see along some straight lines is what rays meet; returns how many lines were judged.

    A point is bare where nothing stands on the line before its face, and only there. Without clear
    acrylic in the lamp it is hidden behind anything opaque, and veiled behind what is left.
    """
    points, by, judged = study.light.points, Random(seed), 0
    if not len(points):
        return 0
    parts = study.stack.placed
    clear = any(not part.opaque and part.material.body == "clear" for part in parts)
    solids = [part.solid.vertices[part.solid.triangles] for part in parts]
    for seen in study.eyes:
        height = seen.eye.height - study.stack.floor
        if height < 0.0:
            continue  # the surface may be in the way
        ask = [
            (by.randrange(len(points)), by.randrange(len(seen.bearings)))
            for _ in range(_LINES // len(study.eyes))
        ]
        point, bearing = np.array(ask).T
        turn = np.radians(seen.bearings[bearing])
        eye = np.stack([seen.eye.distance * np.sin(turn), -seen.eye.distance * np.cos(turn)], axis=1)
        eye = np.column_stack([eye, np.full(len(eye), height)])
        out = points.directions[point]
        start = points.centres[point] + 1e-6 * out
        ahead = ((eye - start) * out).sum(axis=1)
        met = np.array([_met_surely(start, eye, solid) for solid in solids])
        opaque = np.array([part.opaque for part in parts])
        kind = seen.kind[point, bearing]
        for line in range(len(ask)):
            if abs(ahead[line]) < 1e-3 or (met[:, line] < 0).any():
                continue
            judged += 1
            free = ahead[line] > 0.0 and not met[:, line].any()
            told = f"{seen.eye.name}: point {point[line]} from {seen.bearings[bearing[line]]}°, {kind[line]}"
            assert (kind[line] == Kind.BARE) == free, told
            if not clear and not free:
                blocked = ahead[line] <= 0.0 or met[opaque, line].any()
                assert kind[line] == (HIDDEN if blocked else Kind.VEILED), told
    return judged


def _met_surely(
    start: NDArray[np.float64], end: NDArray[np.float64], solid: NDArray[np.float64]
) -> NDArray[np.int8]:
    """Whether lines (n, 3) meet a solid's triangles (m, 3, 3): 1 or 0, −1 where a hair aside it is otherwise."""
    away = end - start
    side = np.cross(away, (0.3, 0.5, 0.8124))
    side *= _ASIDE / np.linalg.norm(side, axis=1)[:, None]
    up = np.cross(away, side)
    up *= _ASIDE / np.linalg.norm(up, axis=1)[:, None]
    found = [_met(start + move, away, solid) for move in (0.0, side, up, -side - up)]
    same = np.all([one == found[0] for one in found], axis=0)
    return np.where(same, found[0], -1).astype(np.int8)


def _met(
    start: NDArray[np.float64], away: NDArray[np.float64], solid: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Möller and Trumbore's test (1997), every line with every triangle."""
    a, ab, ac = solid[:, 0], solid[:, 1] - solid[:, 0], solid[:, 2] - solid[:, 0]
    cross = np.cross(away[:, None], ac[None])
    det = (cross * ab).sum(axis=2)
    with np.errstate(divide="ignore", invalid="ignore"):
        to = start[:, None] - a
        u = (to * cross).sum(axis=2) / det
        turned = np.cross(to, ab[None])
        v = (turned * away[:, None]).sum(axis=2) / det
        t = (turned * ac).sum(axis=2) / det
        hit = (u >= 0.0) & (v >= 0.0) & (u + v <= 1.0) & (t > 0.0) & (t < 1.0)
    return np.asarray(hit.any(axis=1))
