"""Light-giving faces as arrays: middles, directions and corners."""

import numpy as np
from numpy.typing import NDArray

from stackview.description.light_source import Emitter
from stackview.light.points import LightPoints

_NOTHING = Emitter(beam=180.0, face=(0.0, 0.0), kelvin=0.0, lumens=None, watts=None)


def face_points(
    centres: NDArray[np.float64],
    directions: NDArray[np.float64],
    along: NDArray[np.float64],
    emitter: Emitter,
    source: int,
) -> LightPoints:
    """Light points with rectangular faces.

    Parameters
    ----------
    centres, directions, along : (n, 3); ``along`` is the unit vector of the face's width,
        square to its direction; the face's height runs square to both.
    source : index of the light they belong to
    """
    across = np.cross(directions, along)
    width, height = emitter.face[0] / 2.0, emitter.face[1] / 2.0
    corners = np.stack(
        [centres + u * width * along + v * height * across for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))],
        axis=1,
    )
    count = len(centres)
    return LightPoints(
        centres=centres,
        directions=directions,
        corners=corners,
        beams=np.full(count, emitter.beam),
        lumens=np.full(count, np.nan if emitter.lumens is None else emitter.lumens),
        kelvin=np.full(count, emitter.kelvin),
        source=np.full(count, source, dtype=np.int64),
    )


def points_joined(parts: list[LightPoints]) -> LightPoints:
    """Several lights' points as one."""
    none = face_points(np.zeros((0, 3)), np.zeros((0, 3)), np.zeros((0, 3)), _NOTHING, 0)
    every = [none, *parts]
    return LightPoints(
        centres=np.concatenate([part.centres for part in every]),
        directions=np.concatenate([part.directions for part in every]),
        corners=np.concatenate([part.corners for part in every]),
        beams=np.concatenate([part.beams for part in every]),
        lumens=np.concatenate([part.lumens for part in every]),
        kelvin=np.concatenate([part.kelvin for part in every]),
        source=np.concatenate([part.source for part in every]),
    )


def outwards(bearing: NDArray[np.float64]) -> NDArray[np.float64]:
    """Horizontal unit vectors at bearings [°]: 0° front (−y), 90° right (+x); (n, 3)."""
    radians = np.radians(bearing)
    return np.stack([np.sin(radians), -np.cos(radians), np.zeros_like(radians)], axis=1)


def sideways(bearing: NDArray[np.float64]) -> NDArray[np.float64]:
    """Horizontal unit vectors counter-clockwise along a circle at bearings [°]; (n, 3)."""
    return outwards(np.asarray(bearing) + 90.0)
