"""Where a plate that is lit from one side alone lies on wood: no light comes from behind there.

Such a landing is no part of what glows: its edge against the lit rest is no hot spot, and the eye takes it for a frame.
A plate with light points on both sides, or on the eye's side, glows by what falls on its face, wood behind it or not.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from stackview.arrays import Floats, Whole, Yes
from stackview.glow.hot_spots import LEAST_PIXELS
from stackview.sight.camera import Camera, rays
from stackview.stack.assembly import Stack
from stackview.stack.joints import joints


@dataclass(frozen=True, slots=True, eq=False)
class Landing:
    """Of a placed part, by its number: the face that is seen lies at ``height`` [mm], and looks up or down.

    area : what lies on something opaque on its other side [mm].
    """

    part: int
    height: float
    upwards: bool
    area: shapely.Geometry


def landings_of(stack: Stack, heights: Floats) -> tuple[Landing, ...]:
    """The landings of a lamp with light points at these heights (n,) [mm], for plates that have all on one side."""
    number = {part.name: index for index, part in enumerate(stack.placed)}
    found = []
    for joint in joints(stack) if len(heights) else ():
        if joint.lower.opaque == joint.upper.opaque:
            continue
        upwards = joint.lower.opaque
        plate = joint.upper if upwards else joint.lower
        one_side = heights.max() <= plate.underside if upwards else heights.min() >= plate.top
        if plate.is_layer and one_side:
            seen = plate.top if upwards else plate.underside
            found.append(Landing(number[plate.name], seen, upwards, joint.area))
    return tuple(found)


def without_landings(
    landings: Sequence[Landing],
    part: int,
    camera: Camera,
    mask: Yes,
    *,
    top: int = 0,
    left: int = 0,
) -> Yes:
    """Pixels (h, w) that show a part, but for those that show a landing of it in their middle.

    ``top`` and ``left`` are the camera's row and column at which the mask begins. Of a part that shows hardly more than
    landings all pixels stay.
    """
    own = [one for one in landings if one.part == part and one.upwards == (camera.eye[2] > one.height)]
    if not own:
        return mask
    rows, columns = np.nonzero(mask)
    kept = mask.copy()
    kept[rows, columns] = ~_lands(own, camera, rows + top, columns + left)
    return kept if kept.sum() >= LEAST_PIXELS else mask


def _lands(landings: Sequence[Landing], camera: Camera, rows: Whole, columns: Whole) -> Yes:
    """Which pixels (n,), all of which show one part, show one of its landings in their middle."""
    found = np.zeros(len(rows), np.bool_)
    ways = rays(camera, columns + 0.5, rows + 0.5).astype(np.float64)
    for one in landings:
        far = (one.height - camera.eye[2]) / np.where(ways[:, 2] == 0.0, np.inf, ways[:, 2])
        place = camera.eye[:2] + far[:, None] * ways[:, :2]
        found |= (far > 0.0) & shapely.contains_xy(one.area, place[:, 0], place[:, 1])
    return found
