"""The lamp's own light on its parts and on what it stands on, as it truly is, in place of a light that is tuned by eye.

Ways of light are followed with the glow's own model (:mod:`stackview.spots.laid_down`). Walls keep the fine detail
of the baked light, brought to what truly falls on them; acrylic and ground take the light that was laid down.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles, Whole
from stackview.light.colour import LUMINANCE
from stackview.light.points import LightPoints
from stackview.solids.rays import Target
from stackview.spots.laid_down import LightHits, follow_laid
from stackview.stills.bake import Baked
from stackview.stills.emitters import light_on, lights
from stackview.stills.exchange import CornerLight, smoothed, spread_light
from stackview.stills.finish import blurred
from stackview.stills.grid import GRID_CELLS, faded, grid, on_ground, softened, uncovered
from stackview.stills.ground import Ground
from stackview.stills.panes import Panes
from stackview.stills.refine import Facets
from stackview.study import Study

_WAYS = 262_144
_OFF = 0.5
"""A hit is looked up on the baked mesh from so far off its face [mm]."""
_TIMES = 4
"""How often light from acrylic is drawn to the mean of its neighbours, over chance."""
_WAYS_TOGETHER = 500.0
"""Ways that make up the light in one place of the ground, at least: a twentieth of chance is left."""
_FARTHER = 2.0
"""How many times as far as the baked ground the lamp's light is followed on it."""
_WIDTHS = (1.3, 12.0)
"""Narrowest and widest bell curve by which they are spread there, standard deviation in cells."""


@dataclass(slots=True, eq=False)
class _Sums:
    """Light (c, 3) laid down at a mesh's corners."""

    mesh: Facets
    target: Target
    number: Whole
    """(parts of the stack,) number of each among the baked parts."""
    light: NDArray[np.float64]

    def take(self, laid: LightHits) -> None:
        origins = np.ascontiguousarray(laid.at + _OFF * laid.normal, np.float32)
        hits = self.target.nearest(origins, np.ascontiguousarray(-laid.normal, np.float32))
        own = (hits.triangle >= 0) & (hits.distance < 2.0 * _OFF)
        own[own] &= self.mesh.part[hits.triangle[own]] == self.number[laid.part[own]]
        corner, u, v = self.mesh.corner[hits.triangle[own]], hits.u[own], hits.v[own]
        for k, share in enumerate((1.0 - u - v, u, v)):
            for channel in range(3):
                self.light[:, channel] += np.bincount(
                    corner[:, k], share * laid.light[own, channel], len(self.light)
                )


def areas(mesh: Facets) -> NDArray[np.float64]:
    """Area (c,) that each corner stands for [mm²]: a third of its triangles."""
    a, b, c = (mesh.vertices[mesh.triangles[:, k]].astype(np.float64) for k in range(3))
    each = np.linalg.norm(np.cross(b - a, c - a), axis=1) / 6.0
    return np.asarray(np.bincount(mesh.corner.ravel(), np.repeat(each, 3), len(mesh.at)), np.float64)


def truly_lit(study: Study, lit: Baked, points: LightPoints, *, ways: int = _WAYS) -> Baked:
    """The same lamp with its own light in cd/m², as a white surface shows it, in place of the baked one."""
    names = {part.name: number for number, part in enumerate(lit.placed)}
    number = np.array([names.get(part.name, -1) for part in study.stack.placed])
    walls, acrylic = (
        _Sums(mesh, target, number, np.zeros((len(mesh.at), 3)))
        for mesh, target in ((lit.walls, lit.wall_target), (lit.acrylic, lit.sheet_target))
    )
    floor = np.zeros((GRID_CELLS * GRID_CELLS, 4))

    ground = None if lit.ground is None else _wider(lit.ground)

    def leaving(laid: LightHits) -> None:
        if ground is not None:
            _on_floor(laid, ground.reach, floor)

    follow_laid(
        study.stack, study.light, ways=ways, on_walls=walls.take, from_acrylic=acrylic.take, leaving=leaving
    )
    if ground is not None:
        cell = (2.0 * ground.reach / (GRID_CELLS - 1)) ** 2
        soft = _softly(floor) / np.float32(np.pi * cell)
        ground = replace(ground, lamp=_ground(lit, points, soft, ground.reach))
    return replace(
        lit,
        wall_light=CornerLight(lit.wall_light.sky, _walls(lit, walls.light)),
        sheet_light=CornerLight(lit.sheet_light.sky, _sheets(lit, acrylic.light)),
        ground=ground,
        luminance=1.0,
    )


def _wider(ground: Ground) -> Ground:
    """The same ground over a wider square, for the lamp's light runs farther than the sky's shadow."""
    reach = _FARTHER * ground.reach
    x, y, _ = grid(reach).T
    sky = on_ground(ground.sky, ground.reach, x, y).reshape(GRID_CELLS, GRID_CELLS, 3)
    return Ground(sky, np.zeros_like(sky), reach)


def _on_floor(laid: LightHits, reach: float, floor: NDArray[np.float64]) -> None:
    """Add light that leaves downwards to the cells of the ground that it falls on."""
    down = (laid.normal[:, 2] < -1e-4) & (laid.at[:, 2] > 0.0)
    at, travel, light = laid.at[down], laid.normal[down], laid.light[down]
    place = at[:, :2] - travel[:, :2] * (at[:, 2] / travel[:, 2])[:, None]
    cell = np.rint((place + reach) / (2.0 * reach) * (GRID_CELLS - 1)).astype(np.int64)
    own = ((cell >= 0) & (cell < GRID_CELLS)).all(axis=1)
    index = cell[own, 1] * GRID_CELLS + cell[own, 0]
    for channel in range(3):
        floor[:, channel] += np.bincount(index, light[own, channel], len(floor))
    floor[:, 3] += np.bincount(index, minlength=len(floor))


def _softly(floor: NDArray[np.float64]) -> Singles:
    """Light on the ground (k, k, 3) from what fell on its cells (k², 4), the last the number of ways.

    Spread no finer than the ways bear, and of one colour: each way's own would leave clouds.
    """
    count = floor[:, 3]
    if not count.any():
        return np.zeros((GRID_CELLS, GRID_CELLS, 3), np.float32)
    usual = float((count**2).sum() / count.sum())
    width = float(np.clip(np.sqrt(_WAYS_TOGETHER / (4.0 * np.pi * usual)), *_WIDTHS))
    total = floor[:, :3].sum(axis=0)
    level = (floor[:, :3] @ LUMINANCE.astype(np.float64)).reshape(GRID_CELLS, GRID_CELLS, 1)
    spread = np.maximum(blurred(np.asarray(level, np.float32), [(1.0, width)]), 0.0)
    return np.asarray(spread * (total / max(float(total @ LUMINANCE), 1e-12)), np.float32)


def _ground(lit: Baked, points: LightPoints, soft: Singles, reach: float) -> Singles:
    """Light on the ground: straight from the light points with its shadows, and softly from all else."""
    at = grid(reach)
    up = np.tile(np.array([[0, 0, 1]], np.float32), (len(at), 1))
    panes = Panes(lit.sheet_target, lit.acrylic.flat, lit.sheets.straight)
    own = light_on(at, up, lights(points, lit.size / 2.0), lit.wall_target, panes)
    straight = softened(uncovered(own * np.float32(lit.luminance), np.zeros(len(at), np.bool_)))
    return faded(straight + soft, 0.0)


def _walls(lit: Baked, laid: NDArray[np.float64]) -> Singles:
    """The baked light of the walls, brought to what was laid down on each face of each part."""
    mesh, area = lit.walls, areas(lit.walls)
    kind = np.zeros(len(mesh.at), np.int64)
    kind[mesh.corner.ravel()] = np.repeat(mesh.part.astype(np.int64) * 16 + mesh.face, 3)
    _, group = np.unique(kind, return_inverse=True)
    weight = LUMINANCE.astype(np.float64)
    true = np.bincount(group, laid @ weight) / np.pi
    had = np.bincount(group, (lit.wall_light.lamp.astype(np.float64) @ weight) * area)
    wide = np.bincount(group, area)
    scale = np.where(had > 1e-6 * wide, true / np.maximum(had, 1e-12), 0.0)
    return np.asarray(lit.wall_light.lamp * scale[group][:, None], np.float32)


def _sheets(lit: Baked, laid: NDArray[np.float64]) -> Singles:
    """What a sheet's corners hold, so that its faces glow as bright as light goes out of them."""
    mesh = lit.acrylic
    if not len(mesh.at):
        return lit.sheet_light.lamp
    bright = np.asarray(laid / (np.pi * np.maximum(areas(mesh), 1e-9))[:, None], np.float32)
    bright = smoothed(mesh, spread_light(mesh, bright, lit.sheets.spreading), _TIMES)
    holds = np.zeros(len(mesh.at), np.float32)
    holds[mesh.corner.ravel()] = np.repeat(lit.sheets.holding, 3)
    return np.asarray(bright * holds[:, None], np.float32)
