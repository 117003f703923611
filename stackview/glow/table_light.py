"""Illuminance on the table around a lamp, from its luminous intensity.

E = I·cos θ/d² (cosine law, IES definitions): the lamp counts as a point at its middle. That holds
from about five times the lamp's greatest size on (the "five times rule": common practice, under
which a lit disc is off by 1 % at most); nearer, the value is indicative, and marked so.
"""

from dataclasses import dataclass

import numpy as np

from stackview.glow.intensity import Intensity

FAR = 5.0
"""Least distance, in lamp sizes, at which a lamp may count as a point (common practice)."""


@dataclass(frozen=True, slots=True)
class TableLight:
    """Illuminance at one place of a level surface."""

    distance: float
    """Along the surface from the lamp's axis [mm]."""
    bearing: float
    lux: float
    far: bool
    """Whether the place is far enough off for the lamp to count as a point."""


def illuminance_at(
    intensity: Intensity, *, distance: float, height: float, bearing: float, size: float
) -> TableLight:
    """Illuminance on a level surface below the lamp's middle.

    Parameters
    ----------
    distance : along the surface from the lamp's axis [mm], not negative
    height : of the lamp's middle above the surface [mm], more than 0
    bearing : of the place, from the lamp [°]
    size : the lamp's greatest size [mm], for the limit of validity

    Raises
    ------
    ValueError
        a height that is not above the surface, or a negative distance
    """
    if not height > 0 or not distance >= 0:
        raise ValueError("the lamp must be above the surface, and the distance not negative")
    away = float(np.hypot(distance, height))
    elevation = -float(np.degrees(np.arctan2(height, distance)))
    candela = float(intensity.at(bearing, elevation))
    metres = away / 1000.0
    return TableLight(distance, bearing, candela * (height / away) / metres**2, away >= FAR * size)


def mean_around(intensity: Intensity, *, distance: float, height: float, size: float) -> TableLight:
    """The mean of :func:`illuminance_at` all round, as a place at no bearing of its own (nan)."""
    places = [
        illuminance_at(intensity, distance=distance, height=height, bearing=float(bearing), size=size)
        for bearing in np.arange(0.0, 360.0, 1.0)
    ]
    mean = float(np.mean([place.lux for place in places]))
    return TableLight(distance, float("nan"), mean, places[0].far)
