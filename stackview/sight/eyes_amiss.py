"""Named eyes from which a lamp cannot be looked at: within it, or with the surface before all of it."""

from collections.abc import Iterator
from math import isfinite
from numbers import Real

import numpy as np
from numpy.typing import NDArray

from stackview.description.faults import place
from stackview.description.lamp import Eye
from stackview.description.written_fields import GREATEST_DISTANCE
from stackview.errors import Fault, StackviewError
from stackview.sight.bands import even_bearings
from stackview.sight.eyes import Standpoint, eye_places
from stackview.sight.surface import behind_surface
from stackview.stack.assembly import Stack

_BEARINGS = 360


def eyes_amiss(stack: Stack) -> tuple[Fault, ...]:
    """What is wrong with the places of a lamp's named eyes, told as faults of its file."""
    return tuple(_amiss(stack))


def reach_beside(stack: Stack, height: float) -> float:
    """How far from the axis a height above the lamp's lowest point is still within the lamp [mm].

    A gap between two tiers is within it, the place above a wide base or below a wide roof is not: it is
    as far as parts reach both above and below. 0 over the lamp and under it; the cord is no part of it.
    """
    above = below = 0.0
    for part in stack.placed:
        if part.is_cord or not len(part.solid.vertices):
            continue
        reach = float(np.hypot(part.solid.vertices[:, 0], part.solid.vertices[:, 1]).max())
        above = max(above, reach) if part.top >= height else above
        below = max(below, reach) if part.underside <= height else below
    return min(above, below)


def check_distance(stack: Stack, distance: float) -> None:
    """Raise StackviewError for a distance from the axis [mm] at which no eye walks round the lamp.

    Eyes over a lamp or under it may stand nearer than the lamp reaches, but not at every height.
    """
    units = stack.lamp.units
    if isinstance(distance, bool) or not isinstance(distance, Real) or not isfinite(distance):
        raise StackviewError(f"distance {str(distance)[:40]}: give a length, such as {units.show(900.0)}")
    if distance > GREATEST_DISTANCE:
        raise StackviewError(
            f"distance {units.show(float(distance))}: an eye's distance is at most {units.most(GREATEST_DISTANCE)}"
        )
    body = [part.solid.vertices for part in stack.placed if not part.is_cord and len(part.solid.vertices)]
    reach = max((float(np.hypot(places[:, 0], places[:, 1]).max()) for places in body), default=0.0)
    if distance <= reach:
        raise StackviewError(
            f"distance {units.show(float(distance))} is inside the lamp, which reaches {units.show(reach)} from "
            "its axis: eyes that walk round it stand farther away"
        )


def _amiss(stack: Stack) -> Iterator[Fault]:
    show = stack.lamp.units.show
    for eye in stack.lamp.eyes:
        where = f'eye "{eye.name}"'
        reach = reach_beside(stack, eye.height - stack.floor)
        if eye.distance <= reach:
            yield Fault(
                place(where, "distance"),
                f"{show(eye.distance)} is inside the lamp, which reaches {show(reach)} from its axis "
                f"at the eye's height of {show(eye.height)} above the floor: step back",
            )
        elif stack.lamp.surface is not None and _behind(stack, eye):
            yield Fault(
                place(where, "height"),
                f"{show(eye.height)} is below the surface, which is {show(stack.lamp.surface.height)} above the "
                f"floor and hides all of the lamp at a distance of {show(eye.distance)}: "
                "heights of eyes count from the floor, so raise the eye, or step back",
            )


def _behind(stack: Stack, eye: Eye) -> bool:
    """Whether the surface hides all of the lamp from an eye, from wherever it walks round.

    What a convex surface hides from one place is convex, so that a part is hidden when its corners are.
    """
    if eye.height >= stack.floor:
        return False
    standpoint = Standpoint(stack.floor, stack.lamp.surface)
    around = eye_places(eye, standpoint, even_bearings(_BEARINGS))
    return all(
        bool(behind_surface(corners, seen_from, standpoint.surface).all())
        for corners in _corners(stack)
        for seen_from in around
    )


def _corners(stack: Stack) -> Iterator[NDArray[np.float64]]:
    """The corners of each part, the uppermost first: it is the last to be hidden."""
    for part in sorted(stack.placed, key=lambda part: -part.top):
        if len(part.solid.vertices):
            yield part.solid.vertices
