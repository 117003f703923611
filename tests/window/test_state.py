"""The state by itself: where the eye is, and what hand, wheel and sliders make of it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.sight.camera import project
from stackview.window.state import (
    FARTHEST_EYE,
    NEAREST_EYE_RADII,
    Ball,
    ViewState,
    after_slider,
    after_turn,
    after_wheel,
    camera_of,
    eye_of,
    first_view,
    fitting_distance,
    fitting_field,
    looking,
)

BALL = Ball(80.0, 120.0)


@pytest.mark.parametrize(
    ("bearing", "elevation", "place"),
    [
        (0.0, 0.0, [0, -500, 80]),
        (90.0, 0.0, [500, 0, 80]),
        (180.0, 0.0, [0, 500, 80]),
        (0.0, 90.0, [0, 0, 580]),
        (270.0, -30.0, [-500 * np.cos(np.pi / 6), 0, -170]),
    ],
)
def test_the_eye_goes_about_the_lamps_middle(bearing: float, elevation: float, place: list[float]) -> None:
    state = ViewState(500.0, bearing, elevation)
    assert eye_of(state, BALL) == pytest.approx(np.array(place, float), abs=1e-9)
    assert camera_of(state, BALL, (900, 640)).eye == pytest.approx(np.array(place, float), abs=1e-9)


def test_a_fitted_ball_is_in_view_from_all_sides() -> None:
    around = np.random.default_rng(1).normal(size=(400, 3))
    ball = np.array([0, 0, BALL.middle]) + BALL.radius * around / np.linalg.norm(around, axis=1)[:, None]
    for size in ((900, 640), (500, 800)):
        for state in (first_view(BALL), ViewState(4000.0, field=fitting_field(BALL, 4000.0))):
            at = project(camera_of(state, BALL, size), ball)
            assert (at >= 0).all()
            assert (at <= np.array(size)).all()
            # Near the window's shorter side there is room, but not too much.
            assert np.ptp(at, axis=0).max() > 0.7 * min(size)


def test_lens_and_distance_fit_the_same_way() -> None:
    assert fitting_field(BALL, fitting_distance(BALL, 24.0)) == pytest.approx(24.0)
    assert fitting_field(BALL, fitting_distance(BALL, 5.0)) == pytest.approx(5.0)


def test_the_near_side_follows_the_hand() -> None:
    # To the right: what was to the left of the middle comes to the front, so the eye goes to the left.
    state = replace(first_view(BALL), bearing=20.0, elevation=10.0)
    turned = after_turn(state, BALL, 40.0, 0.0)
    near = np.array([[np.sin(np.radians(20.0)) * 100, -np.cos(np.radians(20.0)) * 100, 80.0]])
    before, after = (project(camera_of(s, BALL, (900, 640)), near)[0] for s in (state, turned))
    assert after[0] > before[0]
    lifted = after_turn(state, BALL, 0.0, 40.0)
    assert project(camera_of(lifted, BALL, (900, 640)), near)[0][1] < before[1]


@given(
    st.lists(
        st.tuples(st.floats(-3000, 3000), st.floats(-3000, 3000), st.floats(-30, 30)), min_size=1, max_size=8
    )
)
def test_no_movement_leaves_the_limits(moves: list[tuple[float, float, float]]) -> None:
    state = first_view(BALL)
    for across, up, steps in moves:
        state = after_wheel(after_turn(state, BALL, across, up), BALL, steps)
    assert 0.0 <= state.bearing < 360.0
    assert -90.0 <= state.elevation <= 90.0
    assert NEAREST_EYE_RADII * BALL.radius <= state.distance <= FARTHEST_EYE
    assert np.isfinite(eye_of(state, BALL)).all()


def test_wheel_there_and_back() -> None:
    state = first_view(BALL)
    assert after_wheel(after_wheel(state, BALL, 3.0), BALL, -3.0).distance == pytest.approx(state.distance)
    assert after_wheel(state, BALL, 1.0).distance < state.distance


def test_any_movement_leaves_the_named_eye() -> None:
    state = looking(first_view(BALL), BALL, eye="seated")
    assert state.eye == "seated"
    for moved in (after_turn(state, BALL, 3.0, 0.0), after_wheel(state, BALL, 1.0)):
        assert moved.eye is None


def test_sliders() -> None:
    state = replace(first_view(BALL), bearing=77.0)
    assert after_slider(state, "light", 2.0).light == 1.0
    assert after_slider(state, "spread", 0.4).spread == 0.4
    assert after_slider(state, "spread", 0.01).whole
    cut = after_slider(state, "cut", 0.5)
    assert (cut.cut, cut.cut_bearing, cut.whole) == (0.5, 77.0, False)
    # The plane stays where it is when the eye goes round and the slider is moved again.
    assert after_slider(replace(cut, bearing=200.0), "cut", 0.6).cut_bearing == 77.0
    with pytest.raises(KeyError):
        after_slider(state, "weight", 0.5)
