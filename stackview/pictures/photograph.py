"""A photograph of a rendered lamp: its light on the film, and how it was exposed."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.glow.parts_seen import LIGHT, PartsSeen
from stackview.glow.room import Room
from stackview.glow.scene import Scene
from stackview.light.colour import LUMINANCE, light_colour
from stackview.pictures.fireflies import without_fireflies
from stackview.pictures.lens import glared
from stackview.pictures.out_of_focus import RoomSeen, out_of_focus, room_seen
from stackview.pictures.wood_over import wood_over
from stackview.sight.camera import Camera
from stackview.solids.rays import Floats

METER = 12.5
"""Constant K of a reflected-light meter, ISO 2720."""


@dataclass(frozen=True, slots=True, eq=False)
class Photograph:
    """A finished picture and how it was exposed. ``pixels`` (h, w, 3) is read-only."""

    pixels: NDArray[np.uint8]
    white: float
    """Colour temperature that is shown as white [K]."""
    middle: float
    """Luminance that a meter would have been held to [cd/m²]."""

    def __post_init__(self) -> None:
        self.pixels.setflags(write=False)

    @property
    def exposure_value(self) -> float:
        """Exposure value at ISO 100: L = 2^EV · K/100 (ISO 2720).

        >>> Photograph(np.zeros((1, 1, 3), np.uint8), 3400.0, 8.0).exposure_value
        6.0
        """
        return float(np.log2(self.middle * 100.0 / METER))


@dataclass(frozen=True, slots=True, eq=False)
class Taken:
    """What every photograph of one lamp from one place shares. Read-only.

    camera : where it is taken from; room : what it sees of the room; wood : (h, w, 3) the factor
    that gives wood its figure; believed : (h, w) where a single bright pixel is true, as it is for
    bare light points and acrylic, or None.
    """

    camera: Camera
    room: RoomSeen
    wood: Floats
    believed: NDArray[np.bool_] | None = None

    def __post_init__(self) -> None:
        for array in (self.wood, self.believed):
            if array is not None:
                array.setflags(write=False)


def on_film(light: Floats, taken: Taken, white: float) -> Floats:
    """Light (h, w, 3) [cd/m²] through the lens: single pixels mended, wood figured, room out of focus, glare."""
    mended = without_fireflies(light, taken.believed)
    figured = np.asarray(mended * taken.wood * balance(white), np.float32)
    return glared(out_of_focus(figured, taken.room, taken.camera))


def balance(white: float) -> Floats:
    """Factors (3,) that show light of ``white`` [K] as neutral, at the same luminance.

    Each channel is divided by that of the white (von Kries' rule applied in sRGB).
    """
    colour = light_colour(white)
    return np.asarray((colour @ LUMINANCE) / np.maximum(colour, 0.02), np.float32)


def taken_from(scene: Scene, room: Room, seen: PartsSeen, camera: Camera) -> Taken:
    """Everything that the photographs of a lamp in a room from one place share."""
    acrylic = [number for number, part in enumerate(scene.placed) if not part.opaque]
    believed = np.isin(seen.part, [LIGHT, *acrylic])
    return Taken(camera, room_seen(scene, room, camera), wood_over(scene.placed, camera), believed)
