"""A lamp made ready for following its light, whoever looks at it."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats
from stackview.glow.flux import flux_of
from stackview.glow.scene import GlowScene, glow_scene
from stackview.light.colour import Colour, mean_light_colour
from stackview.light.layout import LightLayout
from stackview.one_line import one_line
from stackview.spots.caught_light import CaughtLight, caught_light
from stackview.spots.light_choice import Emitters, LightChoice, emitters_of, light_choice
from stackview.stack.assembly import Stack


@dataclass(frozen=True, slots=True, eq=False)
class LitLamp:
    """A lamp made ready for following its light, whoever looks at it."""

    stack: Stack
    light: LightLayout
    scene: GlowScene
    colour: Colour
    emitters: Emitters
    choice: LightChoice
    corners: Floats
    caught: CaughtLight | None

    __repr__ = one_line


def lit_lamp(stack: Stack, light: LightLayout) -> LitLamp:
    """Make a lamp with at least one light point ready."""
    flux = flux_of(light)
    scene = glow_scene(stack, light, flux)
    corners = np.concatenate([part.solid.vertices for part in stack.placed if not part.is_cord])
    colour = mean_light_colour(light.points.kelvin, flux.lumens)
    emitters = emitters_of(scene, light.points)
    choice = light_choice(emitters, corners.min(axis=0), corners.max(axis=0))
    caught = caught_light(scene, light.points, colour, emitters)
    return LitLamp(stack, light, scene, colour, emitters, choice, corners, caught)
