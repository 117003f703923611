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
from stackview.stills.spreading import filled, smoothed, spread_light

_RAYS = 64
_KEY_RAYS = 20
BOUNCES = 2
_LIFT = 0.06
"""Rays start this far off their surface [mm]."""
INSET = 0.3
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
    """Exchange light ``BOUNCES`` times. ``albedo`` (parts, 3) is the walls' mean reflectance."""
    colour = np.tile(albedo[walls.part], 2)
    giving = np.repeat(np.stack([np.where(sheets.opal, 0.6, 0.25), sheets.glowing], axis=1), 3, axis=1)
    wall_side = _wall_side(walls, world, lamp, colour)
    sheet_side = _sheet_side(acrylic, sheets, world, lamp, giving.astype(np.float32))
    spreading = sheets.spreading
    wall, sheet = wall_side.direct, _spread(sheet_side.direct, acrylic, spreading)
    for _ in range(BOUNCES + 1):
        sent = wall_side.sent(wall), sheet_side.sent(sheet)
        wall, sheet = wall_side.lit(*sent), _spread(sheet_side.lit(*sent), acrylic, spreading)
    wall = smoothed(walls, filled(walls, wall, ~wall_side.free), 1)
    # In opal the lamp's light comes to covered corners too; the sky's does not.
    sheet[:, :3] = filled(acrylic, sheet[:, :3], ~sheet_side.free)
    sheet = smoothed(acrylic, sheet, 2)
    return Exchange(_halves(wall), _halves(sheet), *sent)


def _wall_side(walls: Facets, world: World, lamp: Lights, giving: Singles) -> _Side:
    at = _start(walls)
    free = ~in_the_dark(at, walls.normals, world)
    around = gather(at[free], walls.normals[free], world, rays=_RAYS, key=_KEY_RAYS)
    direct = np.zeros((len(at), 6), np.float32)
    direct[free, :3] = around.sky
    direct[free, 3:] = light_on(at[free], walls.normals[free], lamp, world.walls, world.panes)
    return _Side(walls, free, around, direct, giving)


def _sheet_side(acrylic: Facets, sheets: Sheets, world: World, lamp: Lights, giving: Singles) -> _Side:
    at = _start(acrylic)
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


def _start(mesh: Facets) -> Singles:
    """Where light is gathered for each corner: a little inside its own patch and off its surface."""
    corners = mesh.corner.ravel()
    middles = np.repeat(mesh.vertices[mesh.triangles].mean(axis=1), 3, axis=0)
    count = len(mesh.at)
    number = np.maximum(np.bincount(corners, minlength=count), 1)
    middle = np.stack([np.bincount(corners, middles[:, k], count) / number for k in range(3)], axis=1)
    at = mesh.vertices[mesh.at].astype(np.float64)
    inward = middle - at
    length = np.maximum(np.linalg.norm(inward, axis=1, keepdims=True), 1e-9)
    step = np.minimum(INSET, 0.5 * length)
    return np.asarray(at + inward / length * step + _LIFT * mesh.normals, np.float32)
