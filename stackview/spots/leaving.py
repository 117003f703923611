"""How much light leaves the lamp: ways followed from the light points until they are out, or taken up."""

from dataclasses import dataclass

import numpy as np

from stackview.glow.flux import flux_of
from stackview.glow.scene import glow_scene
from stackview.light.colour import mean_light_colour
from stackview.light.layout import LightLayout
from stackview.one_line import one_line
from stackview.spots.outwards import left, lit_alone
from stackview.stack.assembly import Stack

_WAYS = 49_152
"""By so many a share of a tenth is known to 1.4 %."""


@dataclass(frozen=True, slots=True, repr=False)
class LightLeaving:
    """Light that leaves the lamp alone, without what it stands on.

    lumens : [lm]; given : what its light points give [lm]; error : relative standard error of ``lumens``;
    assumed : in words, what of the lumens the file does not give.
    """

    lumens: float
    given: float
    error: float
    assumed: tuple[str, ...]

    __repr__ = one_line

    def record(self) -> dict[str, float]:
        """As JSON has it."""
        return {"lumens": self.lumens, "lumens_of_light_points": self.given, "error": self.error}


def light_leaving(stack: Stack, light: LightLayout, *, seed: int = 1, ways: int = _WAYS) -> LightLeaving:
    """Follow so many ways out of the lamp; the same lamp gives the same answer anywhere.

    The ways are those of :func:`stackview.spots.light_out.light_out`, without where they go. Each begins with
    the same light, and ends with that or, by the colour of what it met, a little more or less, or with none:
    the error is that of the sum of so many, √(Σw² − (Σw)²/n) / Σw, where the colours do not matter that of
    counting, √((1 − p)/(p·n)).
    """
    flux = flux_of(light)
    if not len(light.points) or flux.total <= 0.0:
        return LightLeaving(0.0, flux.total, 0.0, flux.assumed)
    colour = mean_light_colour(light.points.kelvin, flux.lumens)
    lit = lit_alone(glow_scene(stack, light, flux), light.points, colour)
    chance = np.random.Generator(np.random.SFC64([11, seed]))
    out = left(lit, ways, chance).lumens
    lumens, squares = float(out.sum()), float(out @ out)
    error = float(np.sqrt(max(squares - lumens**2 / ways, 0.0)) / lumens) if lumens > 0.0 else 0.0
    return LightLeaving(lumens, flux.total, error, flux.assumed)
