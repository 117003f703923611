"""The beam of a light point: how its intensity falls off its axis."""

import numpy as np
from numpy.typing import NDArray


def beam_power(beams: NDArray[np.float64] | float) -> NDArray[np.float64]:
    """Exponent m of an emitter I ∝ cos^m from its full angle at half intensity [°], of any shape.

    m = −ln 2/ln cos(θ/2), the usual definition; beams are held to 179°.

    >>> beam_power(np.array([60.0, 90.0, 120.0])).round(6)
    array([4.818842, 2.      , 1.      ])
    """
    half = np.radians(np.minimum(beams, 179.0)) / 2.0
    return np.asarray(-np.log(2.0) / np.log(np.cos(half)))
