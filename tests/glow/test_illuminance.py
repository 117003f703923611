"""Light on a face: closed forms, and an endless row by its printed table, Fourier series and plain sum."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.glow.illuminance import lit
from tests.glow.endless_row import row_profile
from tests.glow.plain_points import points_at

# Endless rows of Lambertian LEDs: numeric sums and Fourier series, recomputed (tier A); pitch over distance.
ROWS = [
    (0.75, 1.0043149, 0.9956888),
    (1.0, 1.0272967, 0.9728925),
    (1.5, 1.161782, 0.846848),
    (2.0, 1.386933, 0.667660),
]


@pytest.mark.parametrize(("over", "most", "least"), ROWS)
def test_endless_row_is_that_of_the_printed_table(over: float, most: float, least: float) -> None:
    # Brightest above an LED, darkest between two.
    assert row_profile(np.array([0.0, 0.5]), 1.0 / over) == pytest.approx((most, least), abs=1e-5)


@given(st.floats(0.3, 5.0), st.floats(-0.5, 0.5))
def test_row_follows_its_fourier_series(distance: float, place: float) -> None:
    # E/Ē = 1 + 2 Σ (1 + kb) e^(−kb) cos 2πku, b = 2πz/d: Fourier transform of (x² + z²)^-2.
    b = 2.0 * np.pi * distance
    k = np.arange(1, 60)
    series = 1.0 + 2.0 * ((1.0 + k * b) * np.exp(-k * b) * np.cos(2.0 * np.pi * k * place)).sum()
    assert row_profile(np.array([place]), distance)[0] == pytest.approx(series, abs=1e-9)


@given(st.floats(0.1, 3.0), st.floats(-0.5, 0.5))
def test_row_is_the_plain_sum_over_its_leds(distance: float, place: float) -> None:
    k = np.arange(-4000, 4001)
    plain = (((k + place) ** 2 + distance**2) ** -2.0).sum() * 2.0 * distance**3 / np.pi
    assert row_profile(np.array([place]), distance)[0] == pytest.approx(plain, rel=1e-6)


def test_far_away_there_is_no_ripple_and_nothing_overflows() -> None:
    assert row_profile(np.array([0.0, 0.5]), 500.0).tolist() == [1.0, 1.0]


def test_light_of_one_point_on_a_plate() -> None:
    # Lambertian 1 lm: I0 = 1/π; at 3 mm straight ahead I0/9; 4 mm aside at 3 mm: cos^4/9·I0, cos = 3/5.
    points = points_at(np.array([[0.0, 0.0, 0.0]]))
    places = np.array([[0.0, 0.0, 3.0], [4.0, 0.0, 3.0]])
    down = np.tile([0.0, 0.0, -1.0], (2, 1))
    assert lit(points, np.ones(1), places, down)[0] == pytest.approx(
        [1 / np.pi / 9, (3 / 5) ** 4 / np.pi / 9], rel=1e-9
    )
    assert lit(points, np.ones(1), places, -down)[0].tolist() == [0.0, 0.0]


def test_narrow_beam_has_the_exponent_of_its_half_angle() -> None:
    # cos^m with m = 4.818842 for a full angle of 60° (tier A): half the axial intensity at 30°.
    points = points_at(np.array([[0.0, 0.0, 0.0]]), beam=60.0)
    aside = np.tan(np.radians(30.0))
    places = np.array([[0.0, 0.0, 1.0], [aside, 0.0, 1.0]])
    axial, half = lit(points, np.ones(1), places, np.tile([0.0, 0.0, -1.0], (2, 1)))[0]
    assert axial == pytest.approx(5.818842 / 2 / np.pi, rel=1e-6)
    assert half / axial == pytest.approx(0.5 * np.cos(np.radians(30.0)) ** 3, rel=1e-6)


@pytest.mark.parametrize("over", [1.0, 2.0])
def test_long_real_row_comes_to_the_endless_one(over: float) -> None:
    count, z = 401, 10.0
    pitch = over * z
    centres = np.column_stack([(np.arange(count) - count // 2) * pitch, np.zeros(count), np.zeros(count)])
    x = (np.arange(64) / 64 - 0.5) * pitch
    places = np.column_stack([x, np.zeros(64), np.full(64, z)])
    values = lit(points_at(centres), np.ones(count), places, np.tile([0.0, 0.0, -1.0], (64, 1))).sum(axis=0)
    assert values / values.mean() == pytest.approx(row_profile(x / pitch, 1.0 / over), abs=1e-4)
