"""The picture by day: the lamp lit in a room with a window, as a photograph of it would look."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.light.colour import LUMINANCE
from stackview.photographs.photograph import Taken, on_film
from stackview.stills.finish import developed

_WHITE = 6300.0
"""What the camera takes for white [K]: about that of a room with a window, so that lamplight shows warm."""
_KEY = 0.47
"""Where the room comes to lie on the film, 1 being where its curve bends."""


def daylit(lamp: Singles, day: Singles, taken: Taken) -> NDArray[np.uint8]:
    """The lit lamp by day: pixels (h, w, 3).

    ``lamp`` and ``day`` (h, w, 3) [cd/m²] are the light of the lamp alone and that of day alone,
    denoised, from the same place. Light adds up; nothing is compressed, so that how far the lamp
    holds its own against the day is as it would be.
    """
    seen = on_film(np.asarray(lamp + day, np.float32), taken, _WHITE)
    level = max(float(np.percentile(day @ LUMINANCE, 60.0)), 1e-6)
    return developed(seen, _KEY / level)
