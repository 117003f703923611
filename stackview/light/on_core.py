"""Strips on the core: wound as a helix, or straight up its sides."""

from dataclasses import replace
from math import atan2, cos, pi

import numpy as np
from numpy.typing import NDArray

from stackview.curves.facing import Facing, facing
from stackview.description.lamp import Core
from stackview.description.light_source import Emitter, Helix, Runs
from stackview.description.outline import path_of
from stackview.errors import Fault, LampError
from stackview.light.faces import face_points, outwards, points_joined, sideways
from stackview.light.points import LightPoints
from stackview.light.ribbon import Ribbon
from stackview.light.strip import Cut, cut_strip, helix_turn
from stackview.stack.assembly import Stack

_UP = np.array([0.0, 0.0, 1.0])
_Laid = tuple[LightPoints, tuple[Cut, ...], tuple[Ribbon, ...]]


def helix(layout: Helix, emitter: Emitter, stack: Stack, source: int, where: str) -> _Laid:
    """A strip wound round the core, its length measured at mid-thickness.

    Raises LampError where there is no round core, or less room than one segment.
    """
    core = stack.lamp.core
    radius = None if core is None else core.outline.radius
    if core is None or radius is None:
        raise LampError(
            "", (Fault(where, "a strip is wound on a round core; give [core] a circle, or use runs"),)
        )
    part = stack.part("core")
    strip, pitch = layout.strip, layout.pitch
    turn = helix_turn(radius + strip.thickness / 2.0, pitch)
    lead = atan2(pitch, 2.0 * pi * (radius + strip.thickness / 2.0))
    half_height = strip.width / 2.0 * cos(lead)
    # The strip's own width stands within the core's height at both ends.
    climb = part.top - part.underside - layout.start - 2.0 * half_height
    room = climb / pitch * turn
    if layout.turns is not None:
        room = min(room, layout.turns * turn)
    if layout.length is not None:
        room = min(room, layout.length)
    cut = cut_strip(strip, room, where, stack.lamp.units)
    sense = 1.0 if layout.hand == "right" else -1.0
    outer = radius + strip.thickness
    foot = part.underside + layout.start + half_height
    axis = np.array([*core.outline.at, 0.0])

    def at(length: NDArray[np.float64], face: float) -> tuple[NDArray[np.float64], ...]:
        bearing = layout.first + sense * 360.0 * length / turn
        out, along = outwards(bearing), cos(lead) * sense * sideways(bearing) + np.sin(lead) * _UP
        return axis + face * out + np.outer(foot + pitch * length / turn, _UP), out, along

    middle, out, along = at(strip.spacing * (np.arange(cut.count, dtype=np.float64) + 0.5), outer)
    steps = max(2, int(cut.length / 2.0))
    edge, edge_out, edge_along = at(cut.length * np.arange(steps, dtype=np.float64) / (steps - 1.0), outer)
    across = np.cross(edge_out, edge_along) * sense * strip.width / 2.0
    return (
        face_points(middle, out, along, emitter, source),
        (cut,),
        (Ribbon(edge - across, edge + across, edge_out),),
    )


def runs(layout: Runs, emitter: Emitter, stack: Stack, source: int, where: str) -> _Laid:
    """Straight strips up the core's sides, each where its bearing meets the side it lies on.

    Raises LampError where there is no core, nothing of it at a bearing, or less room than one segment.
    """
    core = stack.lamp.core
    if core is None:
        raise LampError("", (Fault(where, "straight runs lie on the core; describe [core]"),))
    part, strip = stack.part("core"), layout.strip
    room = part.top - part.underside - layout.start
    room = room if layout.length is None else min(room, layout.length)
    cut = cut_strip(strip, room, where, stack.lamp.units)
    foot = part.underside + layout.start
    rises = foot + strip.spacing * (np.arange(cut.count) + 0.5)
    points, ribbons = [], []
    for bearing in layout.bearings():
        met = side_of(core, bearing)
        if met is None:
            nothing = f"the core has no side at bearing {bearing % 360.0:g}°: draw it about its own centre"
            raise LampError("", (Fault(where, nothing),))
        out, place = np.array([[*met.out, 0.0]]), np.array([[*met.at, 0.0]])
        face = place + strip.thickness * out
        middles = np.repeat(face, cut.count, axis=0) + np.outer(rises, _UP)
        same = np.repeat(out, cut.count, axis=0)
        points.append(face_points(middles, same, np.tile(_UP, (cut.count, 1)), emitter, source))
        ends = np.repeat(face, 2, axis=0) + np.outer([foot, foot + cut.length], _UP)
        half = strip.width / 2.0 * np.cross(_UP, out)
        ribbons.append(Ribbon(ends - half, ends + half, np.repeat(out, 2, axis=0)))
    return points_joined(points), (cut,) * layout.count, tuple(ribbons)


def side_of(core: Core, bearing: float) -> Facing | None:
    """The core's side at a bearing [°] from its own centre, placed as the core stands; None where none is."""
    x, y = core.outline.at
    met = facing(path_of(replace(core.outline, at=(0.0, 0.0))), bearing)
    return None if met is None else replace(met, at=(met.at[0] + x, met.at[1] + y))
