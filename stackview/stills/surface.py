"""How opaque surfaces look: their colour, point by point, and the sheen of their finish."""

import numpy as np

from stackview.arrays import Singles
from stackview.stack.placed import Placed
from stackview.stills.dome import hazed
from stackview.stills.noise import noise
from stackview.stills.wood import wood_colour

_SHEEN = {"wood": 0.030, "plywood": 0.025, "board": 0.012, "plastic": 0.05, "metal": 0.0, "acrylic": 0.0}

_ARRIS = 0.3
"""How far a sanded edge's rounding reaches down the face [mm]; common practice."""


def surface_colour(part: Placed, at: Singles, normals: Singles, grain_size: Singles) -> Singles:
    """Reflectance (n, 3), linear sRGB, of one opaque part at points (n, 3) [mm]."""
    if part.material.is_figured:
        colour = wood_colour(part, at, normals, grain_size)
        return np.asarray(colour * _arris(part, at, normals, grain_size)[:, None], np.float32)
    base = np.asarray(part.material.colour, np.float32)
    if part.material.is_board:
        speck = noise(at[:, 0] / 0.6 + at[:, 2] * 0.9, at[:, 1] / 0.6 - at[:, 2] * 0.7)
        fade = np.clip(1.6 - 1.5 * grain_size / 0.6, 0.0, 1.0)
        return np.asarray(base * (1.0 + 0.06 * speck * fade)[:, None], np.float32)
    return np.broadcast_to(base, at.shape)


def _arris(part: Placed, at: Singles, normals: Singles, grain_size: Singles) -> Singles:
    """Darkening (n,) along the upper and lower edges of upright faces.

    A sanded edge is a little round, so that the joint of two flush layers is a fine dark line.
    Where a pixel covers more than the line is wide, it spreads and fades to the same mean.
    """
    away = np.minimum(np.abs(at[:, 2] - part.underside), np.abs(part.top - at[:, 2]))
    width = np.maximum(_ARRIS, 0.7 * grain_size)
    upright = np.abs(normals[:, 2]) < 0.3
    line = 0.55 * (_ARRIS / width) * np.exp(-((away / width) ** 2))
    return np.asarray(1.0 - np.where(upright, line, 0.0), np.float32)


def finished(
    part: Placed, colour: Singles, light: Singles, sky: Singles, normals: Singles, directions: Singles
) -> Singles:
    """Radiance (n, 3) of a surface: lit colour, and a soft mirror of the studio over it.

    ``light`` (n, 3) is all baked light, ``sky`` (n, 3) the sky's part of it. Reflectance rises
    towards grazing view as in Schlick, "An inexpensive BRDF model for physically-based
    rendering", Comput. Graph. Forum 13(3), 1994, eq. 15.
    """
    facing = (directions * normals).sum(axis=1)
    reflected = hazed(directions - 2 * facing[:, None] * normals)
    open_ = np.minimum(sky[:, 1:2], 1.0)
    grazing = (1.0 - np.clip(np.abs(facing), 0.0, 1.0))[:, None] ** 5
    if part.material.is_metal:
        # Brushed: half mirror of the studio, half spread.
        return np.asarray(
            colour * (0.60 * light + 0.65 * reflected**1.8 * open_) + 0.3 * grazing * open_, np.float32
        )
    sheen = np.float32(_SHEEN[part.material.kind])
    return np.asarray(colour * light + (sheen + 0.12 * grazing) * reflected * open_, np.float32)
