"""The evening picture: the lamp lit in a dim room, as a photograph of it would look."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.light.colour import LUMINANCE, light_colour
from stackview.light.evening import PICTURED_LUMINANCE, ROOM_KELVIN, WHITE_KELVIN
from stackview.photographs.photograph import Taken, on_film
from stackview.stills.evening_tone import by_evening


def lamplit(lamp: Singles, day: Singles | None, taken: Taken) -> NDArray[np.uint8]:
    """The lamp in a dim room: pixels (h, w, 3).

    ``lamp`` and ``day`` (h, w, 3) [cd/m²] are the light of the lamp alone and that of day alone,
    denoised, from the same place; the room gets day's light and shade, at the level and in the
    colour of an evening (:mod:`stackview.light.evening`). Without ``day`` it is dark.
    """
    light = lamp if day is None else lamp + dimmed(day)
    seen = on_film(np.asarray(light, np.float32), taken, WHITE_KELVIN)
    return by_evening(seen)


def dimmed(day: Singles) -> Singles:
    """Light of day (h, w, 3) brought down to what a room has in the evening."""
    usual = float(np.median(day @ LUMINANCE))
    tint = light_colour(ROOM_KELVIN)
    return np.asarray(day * (tint / (tint @ LUMINANCE)) * (PICTURED_LUMINANCE / max(usual, 1e-6)), np.float32)
