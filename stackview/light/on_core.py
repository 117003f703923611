"""Strips on the core: wound as a helix, or straight up its sides."""

from math import atan2, cos, degrees, pi, radians

import numpy as np
from numpy.typing import NDArray

from stackview.curves.arcs import polygon
from stackview.description.light_source import Emitter, Helix, Runs
from stackview.description.outline import path_of
from stackview.description.shapes import Circle
from stackview.errors import Fault, LampError
from stackview.light.faces import face_points, joined, outwards, sideways
from stackview.light.points import LightPoints
from stackview.light.ribbon import Ribbon
from stackview.light.strip import Cut, cut_strip, helix_turn
from stackview.stack.assembly import Stack

_UP = np.array([0.0, 0.0, 1.0])
Laid = tuple[LightPoints, tuple[Cut, ...], tuple[Ribbon, ...]]


def helix(layout: Helix, emitter: Emitter, stack: Stack, source: int, where: str) -> Laid:
    """A strip wound round the core, its length measured at mid-thickness.

    Raises LampError where there is no round core, or less room than one segment.
    """
    core = stack.lamp.core
    if core is None or not isinstance(core.outline.shape, Circle):
        raise LampError(
            "", (Fault(where, "a strip is wound on a round core; give [core] a circle, or use runs"),)
        )
    part = stack.part("core")
    strip, pitch = layout.strip, layout.pitch
    radius = core.outline.shape.diameter / 2.0 + core.outline.grow
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
    cut = cut_strip(strip, room, where)
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


def runs(layout: Runs, emitter: Emitter, stack: Stack, source: int, where: str) -> Laid:
    """Straight strips up the core's sides, each in the middle of the side it lies on.

    Raises LampError where there is no core, or less room than one segment.
    """
    if stack.lamp.core is None:
        raise LampError("", (Fault(where, "straight runs lie on the core; describe [core]"),))
    part, strip = stack.part("core"), layout.strip
    room = part.top - part.underside - layout.start
    cut = cut_strip(strip, room if layout.length is None else min(room, layout.length), where)
    foot = part.underside + layout.start
    rises = foot + strip.spacing * (np.arange(cut.count) + 0.5)
    points, ribbons = [], []
    for index in range(layout.count):
        bearing = layout.first + 360.0 * index / layout.count
        place, facing = _side(stack, bearing)
        out = outwards(np.array([facing]))
        face = place + strip.thickness * out
        middles = np.repeat(face, cut.count, axis=0) + np.outer(rises, _UP)
        same = np.repeat(out, cut.count, axis=0)
        points.append(face_points(middles, same, np.tile(_UP, (cut.count, 1)), emitter, source))
        ends = np.repeat(face, 2, axis=0) + np.outer([foot, foot + cut.length], _UP)
        half = strip.width / 2.0 * sideways(np.array([facing]))
        ribbons.append(Ribbon(ends - half, ends + half, np.repeat(out, 2, axis=0)))
    return joined(points), (cut,) * layout.count, tuple(ribbons)


def _side(stack: Stack, bearing: float) -> tuple[NDArray[np.float64], float]:
    """Where the core's side is met at a bearing: (1, 3) at z = 0, and the bearing it faces [°]."""
    core = stack.lamp.core
    assert core is not None
    shape = core.outline.shape
    if isinstance(shape, Circle) and core.outline.at == (0.0, 0.0):
        return (shape.diameter / 2.0 + core.outline.grow) * outwards(np.array([bearing])), bearing
    corners = polygon(path_of(core.outline), stack.lamp.chord_error)
    ends = np.roll(corners, -1, axis=0)
    sine, cosine = np.sin(radians(bearing)), np.cos(radians(bearing))
    off, off_end = corners[:, 0] * cosine + corners[:, 1] * sine, ends[:, 0] * cosine + ends[:, 1] * sine
    with np.errstate(divide="ignore", invalid="ignore"):
        share = off / (off - off_end)
        meet = corners + share[:, None] * (ends - corners)
        out = meet[:, 0] * sine - meet[:, 1] * cosine
    crossed = ((off <= 0) != (off_end <= 0)) & (out > 0)
    side = int(np.flatnonzero(crossed)[np.argmax(out[crossed])])
    run = ends[side] - corners[side]
    facing = degrees(atan2(run[1], run[0]))
    return np.array([[meet[side, 0], meet[side, 1], 0.0]]), facing % 360.0
