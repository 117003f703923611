"""How the baked parts of the light are put together: day, evening, and the studio between."""

from dataclasses import dataclass

Colour = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Mix:
    """One mix of the baked light.

    ``sky`` and ``lamp`` weigh the two parts; ``white`` is the colour temperature that the
    picture shows as neutral for the lamp's light [K]; ``backdrop_high`` and ``backdrop_low``
    are the linear colours behind the lamp, at the picture's top and foot; ``bloom`` is the
    share of bright light that spreads, as in a lens; ``exposure`` scales all.
    """

    sky: float
    lamp: float
    white: float
    backdrop_high: Colour
    backdrop_low: Colour
    bloom: float
    exposure: float = 1.0


STUDIO = Mix(0.92, 1.0, 4000.0, (0.27, 0.272, 0.275), (0.52, 0.512, 0.50), 0.10)
"""The standard picture: a well-lit studio with the lamp switched on."""
DAY = Mix(1.1, 0.22, 5000.0, (0.36, 0.372, 0.388), (0.66, 0.66, 0.655), 0.05)
"""Daylight, the lamp on but outshone."""
EVENING = Mix(0.21, 1.15, 3500.0, (0.012, 0.013, 0.016), (0.050, 0.049, 0.049), 0.14)
"""A dim room, the lamp the brightest thing in it."""
