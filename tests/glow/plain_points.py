"""Light points at places, all facing one way."""

import numpy as np
from numpy.typing import NDArray

from stackview.description.light_source import Emitter
from stackview.light.faces import face_points
from stackview.light.points import LightPoints


def points_at(
    centres: NDArray[np.float64],
    direction: tuple[float, float, float] = (0.0, 0.0, 1.0),
    beam: float = 120.0,
    face: float = 0.02,
) -> LightPoints:
    count = len(centres)
    out = np.tile(direction, (count, 1)).astype(float)
    along = np.tile([1.0, 0.0, 0.0] if abs(direction[0]) < 0.5 else [0.0, 0.0, 1.0], (count, 1))
    emitter = Emitter(beam=beam, face=(face, face), kelvin=2700.0, lumens=1.0, watts=None)
    return face_points(np.asarray(centres, float), out, along, emitter, 0)
