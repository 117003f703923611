"""Light points on a layer: a ring, a flat panel, or one power diode."""

import numpy as np

from stackview.description.light_source import Diode, Emitter, Panel, Ring
from stackview.light.board import lies_at
from stackview.light.faces import face_points, outwards, sideways
from stackview.light.points import LightPoints
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed

_UP = np.array([0.0, 0.0, 1.0])
_RIGHT = np.array([1.0, 0.0, 0.0])


def ring(layout: Ring, emitter: Emitter, stack: Stack, source: int) -> LightPoints:
    """Light points evenly on a circle above a layer's top."""
    bearing = layout.first + 360.0 * np.arange(layout.count) / layout.count
    out = outwards(bearing)
    middles = layout.diameter / 2.0 * out + (stack.part(layout.on).top + layout.height) * _UP
    facing = {"out": out, "in": -out, "up": np.tile(_UP, (len(out), 1)), "down": np.tile(-_UP, (len(out), 1))}
    return face_points(middles, facing[layout.facing], sideways(bearing), emitter, source)


def panel(layout: Panel, emitter: Emitter, stack: Stack, source: int) -> LightPoints:
    """A flat grid of light points on a layer's top (facing up) or underside (facing down), or in a recess there."""
    part = stack.part(layout.on)
    column = (np.arange(layout.columns) - (layout.columns - 1) / 2.0) * layout.spacing + layout.at[0]
    row = (np.arange(layout.rows) - (layout.rows - 1) / 2.0) * layout.spacing + layout.at[1]
    x, y = (grid.ravel() for grid in np.meshgrid(column, row))
    up = layout.on_top
    middles = np.stack([x, y, np.full_like(x, _foot(layout, emitter, part))], axis=1)
    directions = np.tile(_UP if up else -_UP, (len(x), 1))
    return face_points(middles, directions, np.tile(_RIGHT, (len(x), 1)), emitter, source)


def diode(layout: Diode, emitter: Emitter, stack: Stack, source: int) -> LightPoints:
    """One diode; ``tilt`` leans it from straight up (or down) towards a bearing."""
    part = stack.part(layout.on)
    sign = 1.0 if layout.on_top else -1.0
    foot = _foot(layout, emitter, part)
    tilt = np.radians(layout.tilt)
    bearing = np.array([layout.bearing])
    lean = outwards(bearing)
    direction = np.sin(tilt) * lean + sign * np.cos(tilt) * _UP
    middle = np.array([[layout.at[0], layout.at[1], foot + sign * layout.height]])
    return face_points(middle, direction, sideways(bearing), emitter, source)


def _foot(layout: Panel | Diode, emitter: Emitter, part: Placed) -> float:
    """What it lies on; where that is nothing, which a check tells, the layer's own face."""
    lies = lies_at(layout, emitter, part)
    if lies is not None:
        return lies
    return part.top if layout.on_top else part.underside
