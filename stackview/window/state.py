"""What the window shows, as one frozen value, and how keys, wheel and hand change it.

Nothing here draws. The eye goes about the lamp's middle (on the axis, at mid-height): a
bearing, an elevation and a distance, with a lens that keeps the lamp in view from far off.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.description.units import MILLIMETRES, Units
from stackview.sight.camera import BEARING, ELEVATION, FIELD, Camera, axes

NEAREST_EYE_RADII = 1.15
"""The eye comes no nearer than this many radii of the ball round the lamp."""
FARTHEST_EYE = 30_000.0
"""Nor farther than this [mm]."""
_ROOM = 1.28
"""Radius that a fitted view leaves for the lamp, in radii of the ball round it."""
_WIDEST_VIEW, _NARROWEST_VIEW = 60.0, 0.4
"""Limits of the lens, as full angles [°]."""
TURN_STEP, _WHEEL_STEP = 5.0, 0.9
_DEGREES_PER_PIXEL = 0.35
STUDIO_LIGHT, EVENING_LIGHT = 0.5, 1.0


@dataclass(frozen=True, slots=True)
class ViewState:
    """Everything that decides what the window shows of a lamp.

    bearing, elevation : of the eye [°]; distance : from the lamp's middle [mm]; field : full
    angle of the lens across the window's shorter side [°]; light : 0 day, 0.5 studio,
    1 evening; spread : 0 assembled to 1 far apart; cut : 0 whole to 1 all cut away, the plane
    facing ``cut_bearing`` [°]; ``units`` of lengths; ``rings`` round bare points; ``grow``
    the edge marked that would have to grow; ``eye`` the named eye that the view is from, if it is.
    ``wish`` is something to be done outside: "save" or "close".
    """

    distance: float
    bearing: float = BEARING
    elevation: float = ELEVATION
    field: float = FIELD
    light: float = STUDIO_LIGHT
    spread: float = 0.0
    cut: float = 0.0
    cut_bearing: float = 0.0
    units: Units = MILLIMETRES
    rings: bool = True
    grow: bool = False
    help: bool = False
    message: str = ""
    error: str = ""
    eye: str | None = None
    wish: str | None = None

    @property
    def whole(self) -> bool:
        """Whether the lamp is shown as it stands: neither spread nor cut."""
        return self.spread == 0.0 and self.cut == 0.0


@dataclass(frozen=True, slots=True)
class Ball:
    """The ball round the lamp that views are fitted to: height of its middle, and radius [mm]."""

    middle: float
    radius: float


def first_view(ball: Ball, units: Units = MILLIMETRES) -> ViewState:
    """The three-quarter view that the window opens with."""
    return ViewState(distance=fitting_distance(ball), units=units.alone)


def fitting_distance(ball: Ball, field: float = FIELD) -> float:
    """Distance at which the ball just has room in a lens of ``field`` [°]: r / sin(field / 2)."""
    return _ROOM * ball.radius / float(np.sin(np.radians(field / 2.0)))


def fitting_field(ball: Ball, distance: float) -> float:
    """Lens that gives the ball room from ``distance`` [°]."""
    sine = min(_ROOM * ball.radius / distance, 0.5)
    return float(np.clip(np.degrees(2.0 * np.arcsin(sine)), _NARROWEST_VIEW, _WIDEST_VIEW))


def eye_of(state: ViewState, ball: Ball) -> NDArray[np.float64]:
    """Where the eye is, in the lamp's frame (3,) [mm]."""
    _, _, away = axes(state.bearing, state.elevation)
    return np.asarray(np.array([0.0, 0.0, ball.middle]) - state.distance * away)


def camera_of(state: ViewState, ball: Ball, size: tuple[int, int]) -> Camera:
    """The camera of a picture of this view, ``size`` (width, height) in pixels."""
    width, height = size
    upright = np.tan(np.radians(state.field) / 2.0) * height / min(width, height)
    return Camera(
        bearing=state.bearing,
        elevation=state.elevation,
        distance=state.distance,
        target=(0.0, 0.0, ball.middle),
        field_of_view=float(np.degrees(2.0 * np.arctan(upright))),
        size=size,
    )


def looking(
    state: ViewState,
    ball: Ball,
    *,
    bearing: float | None = None,
    elevation: float | None = None,
    distance: float | None = None,
    field: float | None = None,
    eye: str | None = None,
) -> ViewState:
    """The state with its eye elsewhere, within the limits; it is a named eye only if ``eye`` says so."""
    b = state.bearing if bearing is None else bearing
    e = state.elevation if elevation is None else elevation
    d = state.distance if distance is None else distance
    f = state.field if field is None else field
    return replace(
        state,
        bearing=float(b) % 360.0,
        elevation=float(np.clip(e, -90.0, 90.0)),
        distance=float(np.clip(d, NEAREST_EYE_RADII * ball.radius, max(FARTHEST_EYE, 4.0 * ball.radius))),
        field=float(np.clip(f, _NARROWEST_VIEW, _WIDEST_VIEW)),
        eye=eye,
    )


def after_turn(state: ViewState, ball: Ball, across: float, up: float) -> ViewState:
    """Turned by hand: the mouse went ``across`` to the right and ``up`` by so many pixels.

    The near side of the lamp follows the hand, so that the eye goes the other way.
    """
    return looking(
        state,
        ball,
        bearing=state.bearing - _DEGREES_PER_PIXEL * across,
        elevation=state.elevation - _DEGREES_PER_PIXEL * up,
    )


def after_wheel(state: ViewState, ball: Ball, steps: float) -> ViewState:
    """Nearer for positive steps of the wheel, farther for negative ones."""
    return looking(state, ball, distance=state.distance * _WHEEL_STEP**steps)


def after_slider(state: ViewState, name: str, share: float) -> ViewState:
    """A slider ("light", "spread" or "cut") set to a share of its way, 0 to 1."""
    share = float(np.clip(share, 0.0, 1.0))
    if name == "light":
        return replace(state, light=share)
    if name == "spread":
        return replace(state, spread=share if share > 0.02 else 0.0)
    if name == "cut":
        share = share if share > 0.02 else 0.0
        fresh = state.cut == 0.0
        return replace(state, cut=share, cut_bearing=state.bearing if fresh else state.cut_bearing)
    raise KeyError(name)
