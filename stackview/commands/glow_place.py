"""Where the glow is looked at from: a named eye, or a place of one's own."""

from dataclasses import dataclass

import numpy as np

from stackview.errors import StackviewError
from stackview.in_figures import bearing_words, degrees
from stackview.sight.camera import Camera, axes
from stackview.sight.eyes import Standpoint, eye_places
from stackview.spots.plate_views import as_fine_as_the_eye
from stackview.study import Study

NEAREST_GLOW, FARTHEST_GLOW = 100.0, 20_000.0
"""Distances to look from [mm]."""
_USUAL = (35.0, 10.0, 1000.0)
"""Bearing, elevation and distance of a place of one's own, where not given."""


@dataclass(frozen=True, slots=True)
class GlowPlace:
    """A place to look from, in words and as a camera."""

    words: str
    camera: Camera


def place_for(
    study: Study,
    *,
    eye: str | None,
    bearing: float | None,
    elevation: float | None,
    distance: float | None,
) -> GlowPlace:
    """The camera of a named eye, at the bearing from which it sees most, or of a place of one's own.

    Without any of them it is the lamp's first eye. ``bearing`` turns an eye to another side.

    Raises
    ------
    StackviewError
        for an eye that the lamp does not name, and for places that cannot be looked from
    """
    own = elevation is not None or distance is not None
    if eye is not None and own:
        raise StackviewError("--eye has its own elevation and distance: leave out --elevation and --distance")
    _check(bearing, elevation)
    units = study.lamp.units
    if distance is not None and not NEAREST_GLOW <= distance <= FARTHEST_GLOW:
        raise StackviewError(
            f"--distance {units.show(distance)}: from {units.least(NEAREST_GLOW)} to {units.most(FARTHEST_GLOW)}; "
            "give one between them"
        )
    stack, eyes = study.stack, study.sightlines.eyes
    points = np.concatenate([part.solid.vertices for part in stack.placed if not part.is_cord])
    if own or not eyes or (eye is None and bearing is not None):
        turn, rise, far = (
            usual if given is None else given
            for given, usual in zip((bearing, elevation, distance), _USUAL, strict=True)
        )
        at = np.array([0.0, 0.0, stack.height / 2.0]) - far * axes(turn, rise)[2]
        words = f"{units.show(far)} away, bearing {bearing_words(turn)}, elevation {degrees(rise)}"
        return GlowPlace(words, as_fine_as_the_eye(points, at, stack.height))
    seen = next((seen for seen in eyes if eye is None or seen.eye.name == eye), None)
    if seen is None:
        known = ", ".join(f'"{known.eye.name}"' for known in eyes)
        raise StackviewError(f'--eye "{eye}": the lamp names none of that name; it names {known}')
    turn = float(seen.bearings[seen.worst]) if bearing is None else bearing
    standpoint = Standpoint(stack.floor, stack.lamp.surface)
    at = eye_places(seen.eye, standpoint, np.array([turn]))[0]
    words = (
        f'eye "{seen.eye.name}", {units.show(seen.eye.distance)} away at bearing {bearing_words(turn)}, '
        f"elevation {degrees(seen.elevation)}"
    )
    return GlowPlace(words, as_fine_as_the_eye(points, at, stack.height))


def _check(bearing: float | None, elevation: float | None) -> None:
    for name, value, low, high in (
        ("--bearing", bearing, -3600.0, 3600.0),
        ("--elevation", elevation, -89.0, 89.0),
    ):
        if value is not None and not low <= value <= high:
            raise StackviewError(f"{name} {value:g}°: from {low:g} to {high:g}°; give one between them")
