"""Where a board of light points lies on its layer: on the face, or on the floor of a recess in it."""

import shapely

from stackview.description.light_source import Diode, Emitter, Panel
from stackview.stack.joints import level_areas
from stackview.stack.placed import Placed

_LEAST = 1e-3
"""Areas under a board smaller than this are slivers between facets [mm²]."""
REACH = 10.0
"""A board reaches as far past the middle of its light [mm]: half a usual star board; common practice."""


def lies_at(layout: Panel | Diode, emitter: Emitter, part: Placed) -> float | None:
    """Height of what the board lies on [mm]: the layer's level faces under it, the one nearest to its light.

    Under a light over an opening, wires' holes for instance, the board reaches 10 mm to the sides. None where
    even then nothing of the layer is under it.
    """
    up = layout.on_top
    faces = [(height + part.solid.lift, area) for height, area in level_areas(part.solid.ground, upwards=up)]
    under = _under(layout, emitter)
    for reach in (under, under.buffer(REACH)):
        met = [height for height, area in faces if shapely.intersection(area, reach).area > _LEAST]
        if met:
            return max(met) if up else min(met)
    return None


def _under(layout: Panel | Diode, emitter: Emitter) -> shapely.Polygon:
    """What the light-giving faces cover, seen from above."""
    x, y = layout.at
    wide, deep = (size / 2.0 for size in emitter.face)
    if isinstance(layout, Panel):
        wide += (layout.columns - 1) * layout.spacing / 2.0
        deep += (layout.rows - 1) * layout.spacing / 2.0
    return shapely.box(x - wide, y - deep, x + wide, y + deep)
