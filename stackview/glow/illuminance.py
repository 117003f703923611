"""Illuminance of a face by light points, with nothing in the way.

An LED of luminous intensity I0·cos θ at distance z from a sheet gives E = I0·z²/(x² + z²)² at x
aside: cosine law at the sheet, cosine of the LED, inverse square (IES Lighting Handbook
definitions). A full diffuser looks as bright as it is lit, from everywhere, so E is its picture.
"""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats
from stackview.light.beam import beam_power
from stackview.light.points import LightPoints


def lit(points: LightPoints, lumens: Floats, places: Floats, normals: Floats) -> Floats:
    """Illuminance by each light point at places on a face: (points, places) [lm/mm²].

    Parameters
    ----------
    points : light points; lumens : (n,) of each
    places, normals : (m, 3) [mm] and unit vectors out of the lit face

    I = I0·cos^m θ with m = −ln 2/ln cos(beam/2) and I0 = Φ(m + 1)/2π; E = I·cos θ'/r² (IES).
    Nothing stands in the way here. Nearer than half the face's size a face is no point: r is held
    at that.
    """
    every = np.arange(len(points))
    return own_light(points, lumens, every, np.broadcast_to(places, (len(points), *places.shape)), normals)


def own_light(
    points: LightPoints, lumens: Floats, who: NDArray[np.int64], places: Floats, normals: Floats
) -> Floats:
    """Illuminance by each of some light points at places of its own, as :func:`lit`.

    who : (k,) indices; places : (k, m, 3); normals : broadcast to that. Returns (k, m) [lm/mm²].
    """
    away = places - points.centres[who, None]
    distance = np.sqrt((away**2).sum(axis=-1))
    size = np.sqrt(_areas(points)[who])[:, None] / 2.0
    unit = away / np.maximum(distance, 1e-9)[..., None]
    out = np.clip((unit * points.directions[who, None]).sum(axis=-1), 0.0, 1.0)
    onto = np.clip(-(unit * normals).sum(axis=-1), 0.0, 1.0)
    power = beam_power(points.beams[who])[:, None]
    axial = np.asarray(lumens)[who, None] * (power + 1.0) / (2.0 * np.pi)
    return np.asarray(axial * out**power * onto / np.maximum(distance, np.maximum(size, 1e-3)) ** 2)


def _areas(points: LightPoints) -> Floats:
    """Area of each light-giving face [mm²]; 0 where its corners are not known."""
    if points.corners.shape[1] < 4:
        return np.zeros(len(points))
    wide, tall = points.corners[:, 1] - points.corners[:, 0], points.corners[:, 3] - points.corners[:, 0]
    return np.asarray(np.linalg.norm(np.cross(wide, tall), axis=1))
