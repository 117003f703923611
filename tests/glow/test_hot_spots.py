import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.glow.hot_spots import FINEST, MINUTE, eye_blur, hot_spot, pitch_of
from stackview.sight.camera import Camera
from tests.lamps import light_points

EVERYWHERE = np.ones((60, 240), bool)


def test_an_even_plate_has_a_ratio_of_one():
    found = hot_spot(np.full((60, 240), 300.0), EVERYWHERE, 1.0, 20.0)
    assert (found.ratio, found.peak, found.mean) == pytest.approx((1.0, 300.0, 300.0))


def test_a_dark_plate_has_no_spots():
    assert hot_spot(np.zeros((60, 240)), EVERYWHERE, 1.0, 20.0).ratio == 1.0


@given(st.floats(0.1, 1e5))
def test_the_ratio_does_not_depend_on_how_bright_it_is(times):
    field = 1.0 + np.random.default_rng(1).random((60, 240))
    one, other = (hot_spot(field * factor, EVERYWHERE, 1.5, 20.0) for factor in (1.0, times))
    assert other.ratio == pytest.approx(one.ratio)
    assert other.mean == pytest.approx(times * one.mean)


def test_a_ripple_keeps_what_the_eye_and_the_surround_leave_of_it():
    # A Gaussian passes exp(−2π²σ²f²) of a wave: with a pitch p, f = 1/p, and a surround of one pitch
    # leaves 3e-9 of it.
    pitch, blur, depth = 24.0, 2.0, 0.5
    row = 1.0 + depth * np.cos(2.0 * np.pi * (np.arange(960) - 480) / pitch)
    field = np.tile(row, (200, 1))
    mask = np.zeros(field.shape, bool)
    mask[:] = True
    found = hot_spot(field, mask, blur, pitch)
    left = np.exp(-2.0 * (np.pi * blur / pitch) ** 2)
    # At the ends of the mask the surround is cut off, which costs a little.
    assert found.ratio == pytest.approx(1.0 + depth * left, rel=0.02)


def test_the_eyes_blur_is_two_minutes_wide():
    pixel = FINEST * MINUTE
    tall = 600
    camera = Camera(0, 0, 1000, (0, 0, 0), float(np.degrees(2 * np.arctan(pixel * tall / 2))), (800, tall))
    assert eye_blur(camera) * 2.354820045 * FINEST == pytest.approx(2.0, rel=1e-6)


def test_pitch_is_the_usual_distance_to_the_next_point():
    row = light_points([(0, 0, z) for z in (0.0, 8.0, 16.0, 24.0, 60.0)], [(1, 0, 0)] * 5)
    assert pitch_of(row) == pytest.approx(8.0)
    assert pitch_of(light_points([(0, 0, 0)], [(1, 0, 0)])) == np.inf
