"""An evening's room: how light it is, in what colour, and what an eye there takes for white.

Every picture by evening keeps to it: the stills as well as the photographs of the glow.
"""

ROOM_LUMINANCE = 2.0
"""Luminance of a room's surfaces by evening light [cd/m²]; from memory."""
PICTURED_LUMINANCE = 0.5
"""That of the room in a picture by evening [cd/m²]: its other lamps out or far away, as lamps are photographed; an
assumption. In the full light of an evening the lamp's own would be lost on pale wood."""
ROOM_KELVIN = 3200.0
"""Colour of what light the room still has, from lamps further away [K]; an assumption."""
WHITE_KELVIN = 3600.0
"""What is taken for white [K]: warm light stays warm, as the eye leaves it."""


def beside_the_room(luminance: float) -> float:
    """How many times as bright as the room what has ``luminance`` [cd/m²] looks.

    Brightness goes with the cube root of luminance (Stevens, "To honor Fechner and repeal his
    law", Science 133, 80 (1961): exponent 0.33 for a source in the dark; from memory).

    >>> beside_the_room(2.0), round(beside_the_room(16.0), 6)
    (1.0, 2.0)
    """
    return float((max(luminance, 0.0) / ROOM_LUMINANCE) ** (1.0 / 3.0))
