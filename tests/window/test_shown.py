"""A lamp made ready: its ball, its named eyes, and how spreading lifts its parts."""

import numpy as np
import pytest

from stackview.sight.camera import project
from stackview.stills.apart import lifts, spread_apart
from stackview.window.shown import Shown, display_camera, spread_ball
from stackview.window.state import first_view


def test_the_ball_holds_the_lamp(honeycomb: Shown) -> None:
    ball = honeycomb.ball
    middle = np.array([0.0, 0.0, honeycomb.study.stack.height / 2])
    away = [np.linalg.norm(part.solid.vertices - middle, axis=1).max() for part in honeycomb.setting.body]
    assert max(away) <= ball.radius + 1e-9
    assert max(away) > 0.9 * ball.radius


def test_stops_are_the_named_eyes(honeycomb: Shown) -> None:
    for stop, seen in zip(honeycomb.stops, honeycomb.study.sightlines.eyes, strict=True):
        assert stop.name == seen.eye.name
        assert stop.elevation == pytest.approx(seen.elevation)
        assert stop.distance * np.cos(np.radians(stop.elevation)) == pytest.approx(seen.eye.distance)
        assert stop.bearing == seen.bearings[seen.worst]


def test_spread_lifts_are_those_of_the_picture(honeycomb: Shown) -> None:
    up = lifts(honeycomb.study.stack)
    for part, lift in zip(honeycomb.setting.placed, honeycomb.lift, strict=True):
        if part.role != "cord":
            assert lift == up[part.name]
    apart = spread_apart(honeycomb.study.stack, honeycomb.study.light)
    moved = honeycomb.study.light.points.centres[:, 2] + honeycomb.point_lift
    assert moved == pytest.approx(apart.points.centres[:, 2])


@pytest.mark.parametrize("spread", [0.0, 0.3, 1.0])
def test_a_spread_lamp_stays_in_view(honeycomb: Shown, spread: float) -> None:
    ball = spread_ball(honeycomb, spread)
    assert ball.radius >= honeycomb.ball.radius - 1e-9
    state = first_view(honeycomb.ball)
    camera = display_camera(state.__class__(state.distance, spread=spread), honeycomb, (900, 640))
    for part, lift in zip(honeycomb.setting.placed, honeycomb.lift, strict=True):
        at = project(camera, part.solid.vertices + np.array([0, 0, spread * lift]))
        assert (at >= 0).all()
        assert (at <= np.array([900, 640])).all()
