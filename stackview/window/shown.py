"""A lamp made ready to be turned in the window: everything that is worked out once for each design."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.sight.at_eye import EyeIndex, eye_index
from stackview.sight.camera import Camera
from stackview.sight.eyes import eye_places
from stackview.sight.summary import Sightlines
from stackview.stills.apart import lifts
from stackview.stills.bake import Baked
from stackview.stills.kept_light import baked as with_light
from stackview.stills.setting import Setting, assembled
from stackview.study import Study
from stackview.window.grain import grain_picture
from stackview.window.state import Ball, ViewState, camera_of, fitting_field


@dataclass(frozen=True, slots=True)
class EyeStop:
    """A named eye at its worst bearing, as a view about the lamp's middle."""

    name: str
    bearing: float
    elevation: float
    distance: float
    field: float


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """What the window of a lamp needs beside its study."""

    study: Study
    index: EyeIndex
    setting: Setting
    baked: Baked
    grain: NDArray[np.uint8]
    ball: Ball
    stops: tuple[EyeStop, ...]
    lift: NDArray[np.float64]
    """(parts,) of the setting: how far each goes up when the lamp is spread wholly apart [mm]."""
    point_lift: NDArray[np.float64]
    """(n,) the same of each light point, and of its strip [mm]."""
    ribbon_lift: float


def prepared(study: Study) -> Shown:
    """Bake the light, draw the grain and sort the silhouettes of a lamp."""
    stack, light, lines = study.stack, study.light, study.sightlines
    setting = assembled(stack, light)
    with study.progress("light, grain and silhouettes", 3) as step:
        lit = with_light(setting)
        step(1)
        grain = grain_picture(lit)
        step(1)
        index = eye_index(lines.scene, lines.points, beams=lines.beams)
        step(1)
    ball = _ball_of(setting, stack.height)
    up = lifts(stack)
    top = max(up.values(), default=0.0)
    sources = [up.get(lit_up.light.layout.carrier, 0.0) for lit_up in light.lit]
    return Shown(
        study=study,
        index=index,
        setting=setting,
        baked=lit,
        grain=grain,
        ball=ball,
        stops=_stops_of(lines, ball),
        lift=np.array([up.get(part.name, top) for part in setting.placed], float),
        point_lift=np.array(sources, float)[light.points.source] if sources else np.zeros(0),
        ribbon_lift=up.get("core", 0.0),
    )


def _ball_of(setting: Setting, height: float) -> Ball:
    """The ball round the lamp's body about its middle on the axis."""
    body = [part.solid.vertices for part in setting.body]
    reach = max((float(np.hypot(*places[:, :2].T).max()) for places in body), default=1.0)
    return Ball(height / 2.0, float(np.hypot(reach, height / 2.0)))


def spread_ball(shown: Shown, spread: float) -> Ball:
    """The ball round the lamp as spread so far."""
    if spread == 0.0:
        return shown.ball
    tops = [
        (part.solid.vertices[:, 2].max() + spread * up, part.solid.vertices[:, 2].min() + spread * up)
        for part, up in zip(shown.setting.placed, shown.lift, strict=True)
        if not part.is_cord
    ]
    high, low = max(top for top, _ in tops), min(foot for _, foot in tops)
    reach = float(np.sqrt(max(shown.ball.radius**2 - shown.ball.middle**2, 1.0)))
    return Ball((high + low) / 2.0, float(np.hypot(reach, (high - low) / 2.0)))


def display_camera(state: ViewState, shown: Shown, size: tuple[int, int]) -> Camera:
    """The camera of what is shown: it steps back as the lamp is spread, so that all stays in view."""
    ball = spread_ball(shown, state.spread)
    further = state.distance * ball.radius / shown.ball.radius
    return camera_of(replace(state, distance=further), ball, size)


def _stops_of(lines: Sightlines, ball: Ball) -> tuple[EyeStop, ...]:
    """Every named eye at its worst bearing, seen from the lamp's middle, with a lens that fits."""
    found = []
    for seen in lines.eyes:
        bearing = float(seen.bearings[seen.worst])
        place = eye_places(seen.eye, lines.standpoint, np.array([bearing]))[0]
        rise = float(place[2]) - ball.middle
        distance = float(np.hypot(seen.eye.distance, rise))
        elevation = float(np.degrees(np.arctan2(rise, seen.eye.distance)))
        found.append(EyeStop(seen.eye.name, bearing, elevation, distance, fitting_field(ball, distance)))
    return tuple(found)
