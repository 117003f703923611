"""How a picture by evening shows what is bright and what is dark: one tone for stills and for photographs of the glow."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.light.colour import LUMINANCE
from stackview.light.evening import PICTURED_LUMINANCE
from stackview.stills.finish import developed
from stackview.stills.local_tone import compressed

_KEY = 0.93
"""Where the lamp's lit parts come to lie on the film, 1 being where its curve bends."""
DIM = 120.0
"""However little of the lamp is lit, the room lies this many times darker than that."""
BLACK = 0.2
"""Share of the room's luminance below which nothing is told apart."""


def by_evening(light: Singles) -> NDArray[np.uint8]:
    """Light on the film (h, w, 3) [cd/m²] as a picture (h, w, 3): what glows is bright, and the room still seen."""
    level = lit_level(light)
    return developed(compressed(light, level, PICTURED_LUMINANCE * BLACK), _KEY / level)


def lit_level(image: Singles) -> float:
    """Luminance of the lamp's lit parts [cd/m²], at least :data:`DIM` times the room's.

    The mean in decades of all that has a tenth of the luminance that half a hundredth of the
    picture exceeds: calm, since no single light point moves it.
    """
    luminance = np.maximum(image @ LUMINANCE, 1e-6)
    lit = luminance[luminance >= 0.1 * np.percentile(luminance, 99.5)]
    return max(float(10.0 ** np.log10(lit).mean()), DIM * PICTURED_LUMINANCE)
