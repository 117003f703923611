"""Skins: what each face of a part does to light, from its material and finish.

Reflectances, roughness, transmission and haze are inputs of the lamp's file; where the maker has
not given them they are the assumptions of ``description/defaults`` and of the table of colours.
"""

from dataclasses import dataclass
from typing import assert_never

import numpy as np

from stackview.description.material import Material, SheetSurface
from stackview.light.colour import LUMINANCE, Colour

_METAL_ROUGHNESS = 0.35
"""Of bare metal as drawn or brushed; from memory."""


@dataclass(frozen=True, slots=True)
class Matt:
    """Reflects evenly to all sides (Lambert); reflectance a linear sRGB colour."""

    reflectance: Colour


@dataclass(frozen=True, slots=True)
class Metal:
    """Bare metal: a broad mirror lobe."""

    reflectance: Colour
    roughness: float = _METAL_ROUGHNESS


@dataclass(frozen=True, slots=True)
class Mirror:
    """A mirror."""

    reflectance: Colour


@dataclass(frozen=True, slots=True)
class Clear:
    """A smooth face of clear acrylic: refraction, Fresnel reflection, total reflection."""


@dataclass(frozen=True, slots=True)
class Sanded:
    """A sanded face of clear acrylic: micro-facets of GGX width ``roughness``."""

    roughness: float


@dataclass(frozen=True, slots=True)
class Opal:
    """One face of an opal sheet, taken as a thin layer that scatters; two of them make the sheet.

    transmittance : share that passes spread; reflectance : share thrown back spread; straight : share
    that passes unspread. Each 0 to 1; what is left of 1 is absorbed.
    """

    transmittance: float
    reflectance: float
    straight: float


Skin = Matt | Metal | Mirror | Clear | Sanded | Opal


def skin_of(material: Material, surface: SheetSurface) -> Skin:
    """The skin of one face of a part made of ``material``."""
    match material.body:
        case "opal":
            return opal_layer(material.optics.transmission, material.optics.haze)
        case "clear":
            return _clear_skin(surface, material.optics.roughness)
        case "opaque":
            return _opaque_skin(material)
        case _:
            assert_never(material.body)


def _clear_skin(surface: SheetSurface, roughness: float) -> Skin:
    match surface:
        case "sanded":
            return Sanded(roughness)
        case "clear":
            return Clear()
        case _:
            assert_never(surface)


def _opaque_skin(material: Material) -> Skin:
    colour = reflectance_of(material)
    match material.optics.coat:
        case "mirror":
            return Mirror(colour)
        case "paint":
            return Matt(colour)
        case None:
            return Metal(colour) if material.is_metal else Matt(colour)
        case _:
            assert_never(material.optics.coat)


def reflectance_of(material: Material) -> Colour:
    """Reflectance of an opaque material: its colour, scaled to its luminous reflectance where that is given.

    A channel that would reflect more than it receives is held at 1. A mirror, and paint of no
    colour given, is neutral.
    """
    wanted = material.optics.reflectance
    colour = np.asarray(material.colour)
    if wanted is None:
        return _triple(colour)
    if material.optics.coat is not None:
        colour = np.ones(3)
    return _triple(np.minimum(colour * (wanted / max(float(colour @ LUMINANCE), 1e-6)), 1.0))


def opal_layer(transmission: float, haze: float) -> Opal:
    """The layer of which two make an opal sheet of this transmission and haze.

    Two layers of transmittance τ and reflectance ρ, with all the light that goes to and fro
    between them, pass T = τ²/(1 − ρ²) (Stokes 1862, pile of plates). Lossless ones, ρ = 1 − τ, pass
    τ/(2 − τ), so τ = 2T/(1 + T). The share T(1 − h) goes straight through both, so its root s
    through each. A sheet so clear that s exceeds τ has to absorb: s²/(1 − ρ²) = T gives ρ = √h.

    >>> opal_layer(0.5, 1.0).transmittance
    0.6666666666666666
    """
    straight = float(np.sqrt(transmission * (1.0 - haze)))
    through = 2.0 * transmission / (1.0 + transmission)
    if straight > through:
        return Opal(0.0, float(np.sqrt(haze)), straight)
    return Opal(through - straight, 1.0 - through, straight)


def _triple(values: np.ndarray) -> Colour:
    red, green, blue = (float(value) for value in values)
    return red, green, blue
