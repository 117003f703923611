"""The evening picture: the lamp lit in a dim room, as a photograph of it would look."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.light.colour import LUMINANCE, light_colour
from stackview.light.evening import ROOM_KELVIN, ROOM_LUMINANCE, WHITE_KELVIN
from stackview.photographs.local_tone import compressed
from stackview.photographs.photograph import Taken, on_film
from stackview.stills.finish import developed

_KEY = 0.93
"""Where the lamp's lit parts come to lie on the film, 1 being where its curve bends."""
DIM = 30.0
"""However little of the lamp is lit, the room lies this many times darker than that."""
BLACK = 0.02
"""Share of the room's luminance below which nothing is told apart."""


def lamplit(lamp: Singles, day: Singles | None, taken: Taken) -> NDArray[np.uint8]:
    """The lamp in a dim room: pixels (h, w, 3).

    ``lamp`` and ``day`` (h, w, 3) [cd/m²] are the light of the lamp alone and that of day alone,
    denoised, from the same place; the room gets day's light and shade, at the level and in the
    colour of an evening (:mod:`stackview.light.evening`). Without ``day`` it is dark.
    """
    light = lamp if day is None else lamp + dimmed(day)
    seen = on_film(np.asarray(light, np.float32), taken, WHITE_KELVIN)
    level = lit_level(seen)
    shown = compressed(seen, level, ROOM_LUMINANCE * BLACK)
    return developed(shown, _KEY / level)


def dimmed(day: Singles) -> Singles:
    """Light of day (h, w, 3) brought down to what a room has in the evening."""
    usual = float(np.median(day @ LUMINANCE))
    tint = light_colour(ROOM_KELVIN)
    return np.asarray(day * (tint / (tint @ LUMINANCE)) * (ROOM_LUMINANCE / max(usual, 1e-6)), np.float32)


def lit_level(image: Singles) -> float:
    """Luminance of the lamp's lit parts [cd/m²], at least :data:`DIM` times the room's.

    The mean in decades of all that has a tenth of the luminance that half a hundredth of the
    picture exceeds: calm, since no single light point moves it.
    """
    luminance = np.maximum(image @ LUMINANCE, 1e-6)
    lit = luminance[luminance >= 0.1 * np.percentile(luminance, 99.5)]
    return max(float(10.0 ** np.log10(lit).mean()), DIM * ROOM_LUMINANCE)
