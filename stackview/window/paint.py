"""The lamp's surfaces as the window draws them: flat colours from the baked light, no lights of its own.

Corners are not shared between triangles, so that each has its own place in the grain's picture.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Bytes, Singles
from stackview.description.material import Material
from stackview.stills.bake import Baked
from stackview.stills.dome import mirrored
from stackview.stills.finish import developed
from stackview.stills.grid import on_ground
from stackview.stills.mix import DAY, STUDIO, Mix, evening_mix
from stackview.stills.surface import finished
from stackview.stills.trace import FAR, REFLECTANCE, mixed

BRIGHTER = 1.3
"""Wood's lightest mark over its mean colour; the grain's picture only darkens from there."""
ACRYLIC_LIFT = 0.04
"""Acrylic is drawn this far off its own surface, so that it does not flicker against wood [mm]."""
_OPAQUENESS = {"opal": 0.95, "sanded": 0.66, "edge": 0.34, "clear": 0.10}
"""How much each kind of acrylic face covers, tuned by eye against the studio picture."""
_LET_IN = 0.42
"""Light that reaches covered faces of a lamp wholly spread apart, as a share of the open sky's."""
_RADII, _AROUND = 34, 96
"""Rings and spokes of the ground."""


def mix_at(light: float, luminance: float) -> Mix:
    """The light between day (0), studio (0.5) and evening (1), for a lamp of :attr:`Baked.luminance` [cd/m²].

    >>> mix_at(0.5, 350.0) == STUDIO, mix_at(1.0, 350.0) == evening_mix(350.0), mix_at(0.0, 350.0) == DAY
    (True, True, True)
    """
    dim = evening_mix(luminance)
    low, high, share = (DAY, STUDIO, 2.0 * light) if light < 0.5 else (STUDIO, dim, 2.0 * light - 1.0)

    def between(name: str) -> float:
        a, b = getattr(low, name), getattr(high, name)
        return float(a + share * (b - a))

    def colour(name: str) -> tuple[float, float, float]:
        a, b = np.array(getattr(low, name)), np.array(getattr(high, name))
        if share in (0.0, 1.0):
            return tuple((a, b)[int(share)].tolist())
        # By ratio: the eye takes even steps of ratio for even steps.
        return tuple(np.exp(np.log(a) + share * (np.log(b) - np.log(a))).tolist())

    return Mix(
        sky=between("sky"),
        lamp=between("lamp"),
        white=between("white"),
        backdrop_high=colour("backdrop_high"),
        backdrop_low=colour("backdrop_low"),
        bloom=between("bloom"),
        exposure=between("exposure"),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Painted:
    """Colours for one light: walls (3m, 3), acrylic (3k, 4), light points (4n, 3), ground (g, 4) or None."""

    walls: Bytes
    acrylic: Bytes
    points: Bytes
    ground: Bytes | None


def painted(baked: Baked, light: float, spread: float = 0.0) -> Painted:
    """Colour every corner of every triangle for one light, 0 day to 1 evening.

    ``spread`` 0 to 1 lets the room's light into faces that are covered in the assembled lamp.
    """
    mix = mix_at(light, baked.luminance)
    view = mixed(baked, mix)
    let_in = np.float32(_LET_IN * spread * mix.sky)
    wall = view.wall.copy()
    wall[:, :3] = np.maximum(wall[:, :3], let_in)
    ground = None
    if view.ground is not None and baked.ground is not None:
        at = ground_places(baked)
        reach = baked.ground.reach
        seen = on_ground(view.ground, reach, at[:, 0], at[:, 1])
        near = np.clip(1.0 - np.hypot(at[:, 0], at[:, 1]) / (reach * FAR), 0.0, 1.0)
        near = near * near * (3 - 2 * near)
        ground = np.concatenate([_shown(seen, mix), np.rint(255 * near[:, None]).astype(np.uint8)], axis=1)
    return Painted(
        walls=_shown(_wall_radiance(baked, wall), mix)[baked.walls.corner.ravel()],
        acrylic=_acrylic(baked, np.maximum(view.sheet_sky, let_in), view.sheet_lamp, mix),
        points=np.repeat(_shown(view.points + np.float32(0.02), mix), 4, axis=0),
        ground=ground,
    )


def _shown(radiance: Singles, mix: Mix) -> Bytes:
    """Colours (n, 3) of radiance (n, 3), by the picture's own curve."""
    return np.asarray(developed(radiance[None], mix.exposure)[0])


def _wall_radiance(baked: Baked, wall: Singles) -> Singles:
    """Radiance (c, 3) at every corner, looked at square on, of the lightest that its wood can be."""
    owner = baked.walls.owner
    light, sky, normals = wall[:, :3], wall[:, 3:6], wall[:, 6:]
    radiance = np.zeros((len(owner), 3), np.float32)
    for number in np.unique(owner):
        mine = np.flatnonzero(owner == number)
        if number >= len(baked.placed):
            ribbon = baked.ribbons[number - len(baked.placed)]
            radiance[mine] = np.asarray(ribbon.colour, np.float32) * light[mine]
            continue
        part = baked.placed[number]
        base = np.asarray(part.material.colour, np.float32) * np.float32(brighter(part.material))
        base = np.broadcast_to(base, (len(mine), 3))
        radiance[mine] = finished(part, base, light[mine], sky[mine], normals[mine], -normals[mine])
    return radiance


def brighter(material: Material) -> float:
    """How far a material's colour is raised under its grain's picture."""
    return BRIGHTER if material.is_wooden else 1.0


def _acrylic(baked: Baked, sky_light: Singles, lamp_light: Singles, mix: Mix) -> Bytes:
    """Colour and cover (3k, 4): what both faces of a sheet add, on its front face alone."""
    mesh, sheets = baked.acrylic, baked.sheets
    if not len(mesh.triangles):
        return np.zeros((0, 4), np.uint8)
    corner = mesh.corner.ravel()
    opal, sanded, edge = (np.repeat(kind, 3)[:, None] for kind in (sheets.opal, sheets.sanded, sheets.edge))
    glowing = np.repeat(sheets.glowing, 3)[:, None]
    colours = np.array([part.material.colour for part in baked.placed], np.float32)
    body = colours[np.repeat(mesh.part, 3)]
    sky, glow = sky_light[corner], lamp_light[corner] * glowing
    cover = np.where(
        opal,
        _OPAQUENESS["opal"],
        np.where(sanded, _OPAQUENESS["sanded"], np.where(edge, _OPAQUENESS["edge"], _OPAQUENESS["clear"])),
    ).astype(np.float32)
    veil = np.where(sanded, 0.27, np.where(edge, 0.13, 0.0))
    mirror = np.where(sanded, 0.25 * REFLECTANCE, REFLECTANCE)
    reflected = mirrored(mesh.normals)[corner] * np.minimum(sky[:, 1:2], 1.0) * mirror
    both = 2.0 * (0.80 * veil * body * sky + glow * np.where(sanded, 0.45, 1.0))
    added = np.where(opal, 0.72 * body * sky + glow, both) + reflected
    rgb = _shown(np.asarray(added / cover, np.float32), mix)
    return np.concatenate([rgb, np.rint(255 * cover).astype(np.uint8)], axis=1)


def wall_places(baked: Baked) -> Singles:
    """Corners (3m, 3) of all opaque triangles [mm]."""
    return np.ascontiguousarray(baked.walls.vertices[baked.walls.triangles].reshape(-1, 3))


def acrylic_places(baked: Baked) -> Singles:
    """Corners (3k, 3) of all acrylic triangles, a hair outside their own surface [mm]."""
    mesh = baked.acrylic
    lifted = mesh.vertices[mesh.triangles] + np.float32(ACRYLIC_LIFT) * mesh.normals[mesh.corner]
    return np.ascontiguousarray(lifted.reshape(-1, 3), np.float32)


def ground_places(baked: Baked) -> Singles:
    """Places (g, 3) on the ground: a middle, then rings that lie closer near the lamp [mm]."""
    if baked.ground is None:
        return np.zeros((0, 3), np.float32)
    share = np.arange(1, _RADII + 1) / _RADII
    radius = baked.ground.reach * FAR * (0.22 * share + 0.78 * share**5)
    turn = np.arange(_AROUND) * (2 * np.pi / _AROUND)
    rings = np.stack([np.outer(radius, np.cos(turn)), np.outer(radius, np.sin(turn))], axis=2).reshape(-1, 2)
    flat = np.concatenate([np.zeros((1, 2)), rings])
    return np.concatenate([flat, np.full((len(flat), 1), -0.05)], axis=1).astype(np.float32)


def ground_triangles() -> NDArray[np.int64]:
    """Triangles of :func:`ground_places`, seen from above."""
    k = np.arange(_AROUND)
    follow = (k + 1) % _AROUND
    found = [np.stack([np.zeros(_AROUND, np.int64), 1 + k, 1 + follow], axis=1)]
    for ring in range(_RADII - 1):
        a, b = 1 + ring * _AROUND, 1 + (ring + 1) * _AROUND
        found.append(np.stack([a + k, b + k, b + follow], axis=1))
        found.append(np.stack([a + k, b + follow, a + follow], axis=1))
    return np.concatenate(found)
