"""A photograph of a rendered lamp: its light on the film."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.glow.parts_seen import LIGHT_FACE, PartsSeen, shares_of
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene
from stackview.light.colour import LUMINANCE, light_colour
from stackview.photographs.fireflies import without_fireflies
from stackview.photographs.out_of_focus import RoomSeen, out_of_focus, room_seen
from stackview.photographs.wood_over import wood_over
from stackview.sight.camera import Camera
from stackview.stills.lens import drawn_by_lens, glared
from stackview.stills.local_tone import box_sum


@dataclass(frozen=True, slots=True, eq=False)
class Taken:
    """What every photograph of one lamp from one place shares. Read-only.

    camera : where it is taken from; room : what it sees of the room; wood : (h, w, 3) the factor
    that gives wood its figure; believed : (h, w) where a single bright pixel is true, as it is for
    bare light points and acrylic; acrylic : (h, w) the share of each pixel that shows them.
    """

    camera: Camera
    room: RoomSeen
    wood: Singles
    believed: NDArray[np.bool_]
    acrylic: Singles

    def __post_init__(self) -> None:
        for array in (self.wood, self.believed, self.acrylic):
            array.setflags(write=False)


def on_film(light: Singles, taken: Taken, white: float) -> Singles:
    """Light (h, w, 3) [cd/m²] through the lens: single pixels mended, wood figured, room out of focus, glare."""
    mended = without_fireflies(light, taken.believed)
    figured = np.asarray(mended * taken.wood * balance(white), np.float32)
    return glared(drawn_by_lens(out_of_focus(figured, taken.room, taken.camera)))


def balance(white: float) -> Singles:
    """Factors (3,) that show light of ``white`` [K] as neutral, at the same luminance.

    Each channel is divided by that of the white (von Kries' rule applied in sRGB).
    """
    colour = light_colour(white)
    return np.asarray((colour @ LUMINANCE) / np.maximum(colour, 0.02), np.float32)


def taken_from(scene: GlowScene, room: Room, seen: PartsSeen, camera: Camera) -> Taken:
    """Everything that the photographs of a lamp in a room from one place share."""
    numbers = [LIGHT_FACE, *(number for number, part in enumerate(scene.placed) if not part.opaque)]
    believed = np.isin(seen.part, numbers)
    acrylic = believed.astype(np.float32)
    near, whole = (box_sum(own.astype(np.float64), 1) for own in (believed, np.ones_like(believed)))
    rows, columns = np.nonzero((near > 0.5) & (near < whole - 0.5))
    acrylic[rows, columns] = shares_of(scene, room, camera, rows, columns, numbers)
    around = room_seen(scene, room, camera)
    # What the table hides of the lamp leaves no figure on it.
    wood = np.where(around.share[..., None] >= 1.0, np.float32(1.0), wood_over(scene.placed, camera))
    return Taken(camera, around, wood, believed, acrylic)
