"""UGR of a luminance picture: lit plates and all, by the rule for bare points and between two bounds.

What counts as a glare source is what is several times brighter than the room: four to ten times is
common practice with luminance pictures. ΣL²ω/p² over pixels is at least (ΣLω/p)²/Σω for every
group of them (Cauchy and Schwarz), with equality where a group is even: so the sum over pixels
bounds every grouping from above, and all pixels as one bound it from below. Small LEDs seen sharp
exceed the rule for small sources in either. So the sum is also taken with every spot spread over
0.005 m², as for bare points; this softens the border of a wide plate as well, by 40 mm, which
costs it some tenths of a unit.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.glow.glare import BACKGROUND, SMALL, Sources, as_seen_level, glare_term, ugr
from stackview.glow.position_index import position_index
from stackview.sight.camera import Camera, rays

_BRIGHTER = 7.0
"""How many times brighter than the room a pixel must be to count (common practice: four to ten)."""
_BLOCK = float(np.sqrt(SMALL)) / 5.0
"""Pixels within a square of this width are summed first [mm]: much less than is spread, and quick."""


@dataclass(frozen=True, slots=True)
class PictureGlare:
    """UGR of a luminance picture; minus infinity where nothing is bright enough to glare."""

    ugr: float
    """With each spot spread over 0.005 m², as CIE 147 has it for one small source."""
    most: float
    """Every bright pixel a source of its own: never less than by any grouping of them."""
    least: float
    """All bright pixels as one source of their mean luminance: never more than by any grouping."""
    solid_angle: float
    """Of all bright pixels together [sr]."""
    threshold: float
    """Luminance from which a pixel counts [cd/m²]."""


def pixels_seen(camera: Camera) -> tuple[Floats, Floats]:
    """Solid angle (h, w) [sr] and direction (h, w, 3) of each pixel of a perspective picture.

    Directions are those of :func:`as_seen_level`. A pixel of width a at unit distance in the
    middle has a²cos³θ at an angle θ off the camera's axis (projected area over distance squared).

    Raises ValueError for a parallel projection, which no eye sees.
    """
    if camera.parallel:
        raise ValueError("glare needs a picture in perspective")
    width, height = camera.size
    columns, rows = np.meshgrid(np.arange(width) + 0.5, np.arange(height) + 0.5)
    world = np.asarray(rays(camera, columns.ravel(), rows.ravel()), dtype=np.float64)
    cosine = world @ camera.axes[2]
    solid = camera.pixel**2 * cosine**3
    return solid.reshape(height, width), as_seen_level(world, camera.eye).reshape(height, width, 3)


def picture_glare(
    luminance: Floats,
    solid_angles: Floats,
    directions: Floats,
    *,
    distance: float,
    background: float = BACKGROUND,
    brighter: float = _BRIGHTER,
) -> PictureGlare:
    """UGR of a luminance picture, whose pixels count where they are ``brighter`` than the room.

    Parameters
    ----------
    luminance, solid_angles : (h, w) [cd/m²] and [sr]
    directions : (h, w, 3) to each pixel: to the right, up, along the line of sight
    distance : from the eye to the lamp [mm], for the size of what is spread
    background : luminance of the room [cd/m²]; brighter : times as bright

    Raises
    ------
    ValueError
        a background, factor or distance that is not above 0
    """
    if not (background > 0 and brighter > 0 and distance > 0):
        raise ValueError("background, factor and distance must be above 0")
    threshold = brighter * background
    bright = luminance >= threshold
    seen, angle, towards = luminance[bright], solid_angles[bright], directions[bright]
    index = position_index(*towards.T)
    whole = float(angle.sum())
    return PictureGlare(
        ugr=ugr(glare_term(_blocks(seen * angle, towards, distance)), background),
        most=ugr(float((seen**2 * angle / index**2).sum()), background),
        least=ugr(float((seen * angle / index).sum()) ** 2 / whole if whole else 0.0, background),
        solid_angle=whole,
        threshold=threshold,
    )


def _blocks(lux: Floats, towards: Floats, distance: float) -> Sources:
    """Bright pixels (n,) gathered in squares, each with its intensity and mean direction.

    ``lux`` is L·ω of each pixel, its illuminance at the eye; intensity is that times distance².
    """
    front = towards[:, 2] > 0
    lux, towards = lux[front], towards[front]
    square = np.floor(towards[:, :2] / towards[:, 2:] * distance / _BLOCK).astype(np.int64)
    _, number = np.unique(square, axis=0, return_inverse=True)
    number = number.reshape(-1)
    total = np.bincount(number, weights=lux)
    mean: Floats = np.stack([np.bincount(number, weights=lux * axis) for axis in towards.T], axis=1)
    places = mean / np.maximum(np.linalg.norm(mean, axis=1, keepdims=True), 1e-300) * distance
    candela = np.asarray(total * (distance / 1000.0) ** 2, dtype=np.float64)
    return Sources(places, candela, np.full(len(total), _BLOCK**2))
