"""The lamp's own light on its parts and on what it stands on, as it truly is, in place of a light that is tuned by eye.

Ways of light are followed with the glow's own model (:mod:`stackview.spots.laid_down`). Walls keep the fine detail
of the baked light, brought to what truly falls on them; acrylic and ground take the light that was laid down.
"""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles, Whole
from stackview.glow.room import SWEEP, WALL
from stackview.light.colour import LUMINANCE
from stackview.light.points import LightPoints
from stackview.solids.rays import Target
from stackview.spots.laid_down import LightHits, follow_laid
from stackview.stills.bake import Baked
from stackview.stills.emitters import light_on, lights
from stackview.stills.exchange import CornerLight, filled, lit_from, smoothed, spread_light
from stackview.stills.finish import blurred
from stackview.stills.gather import World, from_ground
from stackview.stills.grid import GRID_CELLS, faded, grid, on_ground, softened, uncovered
from stackview.stills.ground import Ground
from stackview.stills.refine import Facets
from stackview.stills.thin_walls import stretches
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
_BEARINGS = 48
"""From so many the light on the wall behind the lamp is the mean."""
_DARK = 1e-7
"""A stretch whose baked light is less than this share of what was laid down there [1/(cd/m²)] is dark."""
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


@dataclass(frozen=True, slots=True, eq=False)
class TrulyLit:
    """A lamp with its own light in cd/m², as a white surface shows it; ``behind`` (3,) : that on the wall behind it."""

    lamp: Baked
    behind: Singles


@dataclass(slots=True, eq=False)
class _Behind:
    """Light on a wall so far from the axis [mm]: the mean round the lamp, for it is out of focus and calm."""

    away: float
    light: Singles = field(default_factory=lambda: np.zeros(3, np.float32))

    def take(self, laid: LightHits) -> None:
        """Take in ways that leave the lamp, by where they meet an upright drum as tall as its radius."""
        at, travel = laid.at.astype(np.float64), laid.normal.astype(np.float64)
        level = np.maximum((travel[:, :2] ** 2).sum(axis=1), 1e-9)
        along = (at[:, :2] * travel[:, :2]).sum(axis=1)
        far = np.sqrt(along**2 + level * (self.away**2 - (at[:, :2] ** 2).sum(axis=1))) - along
        height = at[:, 2] + far / level * travel[:, 2]
        own = (height > 0.0) & (height < self.away)
        area = 2.0 * np.pi * self.away**2
        self.light = self.light + np.asarray(laid.light[own].sum(axis=0) / (np.pi * area), np.float32)

    def straight(self, lit: Baked, points: LightPoints) -> Singles:
        """What comes there straight from the light points (3,)."""
        bearing, height = np.meshgrid(
            np.arange(_BEARINGS) / _BEARINGS * 2.0 * np.pi, (np.arange(8) + 0.5) / 8
        )
        out = np.stack([np.cos(bearing), np.sin(bearing)], axis=-1).reshape(-1, 2)
        at = np.column_stack([self.away * out, self.away * height.ravel()]).astype(np.float32)
        inwards = np.column_stack([-out, np.zeros(len(out))]).astype(np.float32)
        own = light_on(at, inwards, lights(points, lit.size / 2.0), lit.wall_target, lit.panes)
        return np.asarray(own.mean(axis=0) * np.float32(lit.luminance), np.float32)


def areas(mesh: Facets) -> NDArray[np.float64]:
    """Area (c,) that each corner stands for [mm²]: a third of its triangles."""
    a, b, c = (mesh.vertices[mesh.triangles[:, k]].astype(np.float64) for k in range(3))
    each = np.linalg.norm(np.cross(b - a, c - a), axis=1) / 6.0
    return np.asarray(np.bincount(mesh.corner.ravel(), np.repeat(each, 3), len(mesh.at)), np.float64)


def truly_lit(study: Study, lit: Baked, points: LightPoints, *, ways: int = _WAYS) -> TrulyLit:
    """The same lamp with its own light in cd/m², as a white surface shows it, in place of the baked one."""
    names = {part.name: number for number, part in enumerate(lit.placed)}
    number = np.array([names.get(part.name, -1) for part in study.stack.placed])
    walls, acrylic = (
        _Sums(mesh, target, number, np.zeros((len(mesh.at), 3)))
        for mesh, target in ((lit.walls, lit.wall_target), (lit.acrylic, lit.sheet_target))
    )
    floor = np.zeros((GRID_CELLS * GRID_CELLS, 4))

    ground = None if lit.ground is None else _wider(lit.ground)
    behind = _Behind(lit.size / 2.0 + WALL)

    def leaving(laid: LightHits) -> None:
        behind.take(laid)
        if ground is not None:
            _on_floor(laid, ground.reach, floor)

    follow_laid(
        study.stack, study.light, ways=ways, on_walls=walls.take, from_acrylic=acrylic.take, leaving=leaving
    )
    if ground is not None:
        cell = (2.0 * ground.reach / (GRID_CELLS - 1)) ** 2
        soft = _softly(floor, ground.reach) / np.float32(np.pi * cell)
        ground = replace(ground, lamp=_ground(lit, points, soft, ground.reach))
    true = replace(
        lit,
        wall_light=CornerLight(lit.wall_light.sky, _walls(lit, walls.light, ground)),
        sheet_light=CornerLight(lit.sheet_light.sky, _sheets(lit, acrylic.light)),
        ground=ground,
        luminance=1.0,
    )
    return TrulyLit(true, behind.light + behind.straight(lit, points))


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


def _softly(floor: NDArray[np.float64], reach: float) -> Singles:
    """Light on the ground (k, k, 3) from what fell on its cells (k², 4), the last the number of ways.

    Spread no finer than the ways bear, and of one colour: each way's own would leave clouds. How it falls off from the
    axis is the mean all round, which more ways bear: only what differs from that is spread.
    """
    count = floor[:, 3]
    if not count.any():
        return np.zeros((GRID_CELLS, GRID_CELLS, 3), np.float32)
    usual = float((count**2).sum() / count.sum())
    width = float(np.clip(np.sqrt(_WAYS_TOGETHER / (4.0 * np.pi * usual)), *_WIDTHS))
    total = floor[:, :3].sum(axis=0)
    level = (floor[:, :3] @ LUMINANCE.astype(np.float64)).reshape(GRID_CELLS, GRID_CELLS, 1)
    profile = _spread_over(_all_round(level, reach), _WIDTHS[0] * 1.5)
    soft, smooth = (_spread_over(own, width) for own in (level, profile))
    spread = profile * soft / np.maximum(smooth, 1e-9 * float(smooth.max()) + 1e-30)
    return np.asarray(spread * (total / max(float(total @ LUMINANCE), 1e-12)), np.float32)


def _spread_over(level: NDArray[np.floating], width: float) -> Singles:
    return np.asarray(np.maximum(blurred(np.asarray(level, np.float32), [(1.0, width)]), 0.0), np.float32)


def _all_round(level: NDArray[np.float64], reach: float) -> NDArray[np.float64]:
    """Values (k, k, 1) each as the mean of all that lie as far from the axis."""
    x, y, _ = grid(reach).T.astype(np.float64)
    away = np.hypot(x, y) / (2.0 * reach / (GRID_CELLS - 1))
    low = away.astype(np.int64)
    part = away - low
    size = int(low.max()) + 2
    count = np.bincount(low, 1.0 - part, size) + np.bincount(low + 1, part, size)
    value = level.ravel()
    total = np.bincount(low, (1.0 - part) * value, size) + np.bincount(low + 1, part * value, size)
    mean = total / np.maximum(count, 1e-9)
    return np.asarray((mean[low] * (1.0 - part) + mean[low + 1] * part).reshape(level.shape))


def _ground(lit: Baked, points: LightPoints, soft: Singles, reach: float) -> Singles:
    """Light on the ground: straight from the light points with its shadows, and softly from all else."""
    at = grid(reach)
    up = np.tile(np.array([[0, 0, 1]], np.float32), (len(at), 1))
    own = light_on(at, up, lights(points, lit.size / 2.0), lit.wall_target, lit.panes)
    straight = softened(uncovered(own * np.float32(lit.luminance), np.zeros(len(at), np.bool_)))
    return faded(straight + soft, 0.0)


def _walls(lit: Baked, laid: NDArray[np.float64], ground: Ground | None) -> Singles:
    """The baked light of the walls, brought to what was laid down on each stretch of surface that lies in the open.

    With it comes what the ground throws back, for the ways were followed without it.
    Of a base the ledge before the lowest tier is one, and what lies within is another. A stretch that the bake has left
    dark gets evenly what was laid down there.
    """
    mesh, area = lit.walls, areas(lit.walls)
    closed = mesh.part < len(lit.placed)
    world = World(lit.wall_target, mesh.flat, closed, lit.panes, ground_sky=None)
    stretch = stretches(mesh, world)
    open_ = stretch >= 0
    _, group = np.unique(stretch[open_], return_inverse=True)
    weight, own = LUMINANCE.astype(np.float64), area[open_]
    true = np.bincount(group, laid[open_] @ weight) / np.pi
    had = np.bincount(group, (lit.wall_light.lamp[open_].astype(np.float64) @ weight) * own)
    wide = np.maximum(np.bincount(group, own), 1e-9)
    lit_by_bake = had > _DARK * true
    scale = np.where(lit_by_bake, true / np.maximum(had, 1e-12), 0.0)
    light = np.zeros_like(lit.wall_light.lamp)
    light[open_] = lit.wall_light.lamp[open_] * scale[group][:, None]
    total = laid[open_].sum(axis=0)
    colour = total / max(float(total @ weight), 1e-12)
    light[open_] += (np.where(lit_by_bake, 0.0, true / wide))[group][:, None] * colour
    if ground is not None:
        back = ground.lamp * np.asarray(SWEEP, np.float32)
        light[open_] += from_ground(lit_from(mesh)[open_], mesh.normals[open_], world, back, ground.reach)
    return filled(mesh, light, ~open_)


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
