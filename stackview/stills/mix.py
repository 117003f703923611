"""How the baked parts of the light are put together: day, evening, and the studio between."""

from dataclasses import dataclass

from stackview.light.colour import Colour
from stackview.light.evening import WHITE_KELVIN, beside_the_room


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
SPREAD = Mix(0.98, 0.45, 4500.0, (0.27, 0.272, 0.275), (0.52, 0.512, 0.50), 0.04)
"""Daylight on parts laid out to be named, the lamp's own light quiet."""
PLAIN_DAY = Mix(1.05, 0.4, 5000.0, (0.36, 0.372, 0.388), (0.66, 0.66, 0.655), 0.02)
"""Even daylight for drawings, the lamp all but out."""
DUSK = Mix(0.42, 1.1, 3600.0, (0.055, 0.058, 0.066), (0.15, 0.148, 0.146), 0.11)
"""A room at dusk: dark enough for light points to be seen as they glare, light enough for the lamp."""
LIFTED = Mix(1.25, 1.0, 4000.0, (0.27, 0.272, 0.275), (0.52, 0.512, 0.50), 0.10)
"""The studio for a lamp lifted up and seen from beneath, where less of the sky reaches."""
_DIM = 0.26
"""The studio's sky in an evening's room: it stands for the room's luminance."""


def evening_mix(luminance: float) -> Mix:
    """A dim room, the lamp the brightest thing in it: by how much, its own light decides.

    ``luminance`` [cd/m²] is that of a white surface where the baked light of the lamp is 1
    (:attr:`stackview.stills.bake.Baked.luminance`); the room is that of the glow's photographs.
    """
    lamp = _DIM * beside_the_room(luminance)
    return Mix(_DIM, lamp, WHITE_KELVIN, (0.012, 0.013, 0.016), (0.050, 0.049, 0.049), 0.14, 1.1)
