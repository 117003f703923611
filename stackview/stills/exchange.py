"""Light thrown to and fro between opaque surfaces and acrylic, from the studio and from the lamp."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.solids.rays import Target
from stackview.stills.emitters import Lights, light_on, light_within
from stackview.stills.gather import Surroundings, World, bounced, gather, in_the_dark
from stackview.stills.refine import Facets
from stackview.stills.sheets import Sheets

_CELLS_A_REACH = 2
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


def smoothed(mesh: Facets, values: Singles, times: int, among: NDArray[np.bool_] | None = None) -> Singles:
    """Values (c, k) drawn half-way to the mean of their neighbours, ``times`` times.

    With ``among`` (c,) only those corners are, to the mean of those beside them: what is covered by a part
    would carry the light from one side of its wall to the other.
    """
    of = np.ones(len(values), np.bool_) if among is None else among
    for _ in range(times):
        total, number = _around(mesh, values, of)
        drawn = of & (number > 0)
        values = values.copy()
        values[drawn] = 0.5 * values[drawn] + 0.5 * total[drawn] / number[drawn, None]
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
            places = mesh.vertices[mesh.at[mine]] / (reach[part] / _CELLS_A_REACH)
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
    """Blur a grid with a Gaussian whose standard deviation is _CELLS_A_REACH cells; nothing lies outside."""
    steps = np.arange(-3 * _CELLS_A_REACH, 3 * _CELLS_A_REACH + 1)
    taps = np.exp(-(steps**2) / (2.0 * _CELLS_A_REACH**2))
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


_RAYS = 64
_KEY_RAYS = 20
_BOUNCES = 2
_LIFT = 0.06
"""Rays start this far off their surface [mm]."""
_INSET = 0.3
"""Corners are lit from this far inside their own face, or they would see their neighbour's [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class CornerLight:
    """Light at corners: ``sky`` and ``lamp``, each (c, 3) linear sRGB, as irradiance over π."""

    sky: Singles
    lamp: Singles


@dataclass(frozen=True, slots=True, eq=False)
class Exchange:
    """Light on the walls' and in the sheets' corners, and what each of their triangles sends (m, 6)."""

    walls: CornerLight
    sheets: CornerLight
    from_walls: Singles
    from_sheets: Singles


@dataclass(frozen=True, slots=True, eq=False)
class _Side:
    """One kind of surface while light is exchanged: which corners are free, and what they see."""

    mesh: Facets
    free: NDArray[np.bool_]
    around: Surroundings
    direct: Singles
    """(c, 6): the sky's light and the lamp's, before any is thrown back."""
    giving: Singles
    """(m, 6): share of its light that each triangle sends on."""

    def sent(self, light: Singles) -> Singles:
        """Sum up what each triangle sends (m, 6), from its free corners: the others lie in the dark."""
        free = self.free[self.mesh.corner].astype(np.float32)
        total = (light[self.mesh.corner] * free[:, :, None]).sum(axis=1)
        return np.asarray(total / np.maximum(free.sum(axis=1), 1)[:, None] * self.giving, np.float32)

    def lit(self, from_walls: Singles, from_sheets: Singles) -> Singles:
        """Direct light and what comes back from all around (c, 6)."""
        light = self.direct.copy()
        light[self.free] += bounced(self.around, from_walls, from_sheets)
        return light


def exchange(
    walls: Facets, acrylic: Facets, sheets: Sheets, world: World, lamp: Lights, albedo: Singles
) -> Exchange:
    """Exchange light ``_BOUNCES`` times. ``albedo`` (parts, 3) is the walls' mean reflectance."""
    colour = np.tile(albedo[walls.part], 2)
    giving = np.repeat(np.stack([np.where(sheets.opal, 0.6, 0.25), sheets.glowing], axis=1), 3, axis=1)
    wall_side = _wall_side(walls, world, lamp, colour)
    sheet_side = _sheet_side(acrylic, sheets, world, lamp, giving.astype(np.float32))
    spreading = sheets.spreading
    wall, sheet = wall_side.direct, _spread(sheet_side.direct, acrylic, spreading)
    for _ in range(_BOUNCES + 1):
        sent = wall_side.sent(wall), sheet_side.sent(sheet)
        wall, sheet = wall_side.lit(*sent), _spread(sheet_side.lit(*sent), acrylic, spreading)
    wall = filled(walls, smoothed(walls, wall, 1, wall_side.free), ~wall_side.free)
    # In opal the lamp's light comes to covered corners too; the sky's does not.
    sheet[:, :3] = filled(acrylic, sheet[:, :3], ~sheet_side.free)
    sheet = smoothed(acrylic, sheet, 2)
    return Exchange(_halves(wall), _halves(sheet), *sent)


def _wall_side(walls: Facets, world: World, lamp: Lights, giving: Singles) -> _Side:
    at = lit_from(walls)
    free = ~in_the_dark(at, walls.normals, world)
    around = gather(at[free], walls.normals[free], world, rays=_RAYS, key=_KEY_RAYS)
    direct = np.zeros((len(at), 6), np.float32)
    direct[free, :3] = around.sky
    direct[free, 3:] = light_on(at[free], walls.normals[free], lamp, world.walls, world.panes)
    return _Side(walls, free, around, direct, giving)


def _sheet_side(acrylic: Facets, sheets: Sheets, world: World, lamp: Lights, giving: Singles) -> _Side:
    at = lit_from(acrylic)
    free = ~in_the_dark(at, acrylic.normals, world)
    # Its own sheets are left out where acrylic is lit: they are what is lit.
    alone = replace(world, panes=replace(world.panes, target=Target(None)))
    around = gather(at[free], acrylic.normals[free], alone, rays=_RAYS // 2, key=_KEY_RAYS)
    inside = at - np.float32(2 * _LIFT) * acrylic.normals
    fading = np.ones(len(at), np.float32)
    fading[acrylic.corner.ravel()] = np.repeat(sheets.fading, 3)
    direct = np.zeros((len(at), 6), np.float32)
    direct[free, :3] = around.sky
    direct[:, 3:] = light_within(inside, lamp, world.walls, world.panes, fading)
    return _Side(acrylic, free, around, direct, giving)


def _spread(light: Singles, mesh: Facets, reach: NDArray[np.float64]) -> Singles:
    return np.concatenate([light[:, :3], spread_light(mesh, light[:, 3:], reach)], axis=1)


def _halves(light: Singles) -> CornerLight:
    return CornerLight(np.ascontiguousarray(light[:, :3]), np.ascontiguousarray(light[:, 3:]))


def lit_from(mesh: Facets) -> Singles:
    """Where light is gathered for each corner (c, 3): a little inside its own patch and off its surface."""
    corners = mesh.corner.ravel()
    middles = np.repeat(mesh.vertices[mesh.triangles].mean(axis=1), 3, axis=0)
    count = len(mesh.at)
    number = np.maximum(np.bincount(corners, minlength=count), 1)
    middle = np.stack([np.bincount(corners, middles[:, k], count) / number for k in range(3)], axis=1)
    at = mesh.vertices[mesh.at].astype(np.float64)
    inward = middle - at
    length = np.maximum(np.linalg.norm(inward, axis=1, keepdims=True), 1e-9)
    step = np.minimum(_INSET, 0.5 * length)
    return np.asarray(at + inward / length * step + _LIFT * mesh.normals, np.float32)
