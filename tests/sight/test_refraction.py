"""Snell's law and total reflection against closed forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.sight.refraction import INDEX, reflected, refracted

UP = np.array([[0.0, 0.0, 1.0]])


def falling(angle: float) -> np.ndarray:
    """A ray that falls on a level face at this angle to its normal [°]."""
    return np.array([[np.sin(np.radians(angle)), 0.0, -np.cos(np.radians(angle))]])


def off_normal(way: np.ndarray) -> float:
    return float(np.degrees(np.arctan2(np.hypot(way[0, 0], way[0, 1]), -way[0, 2])))


def test_printed_example_of_acrylic() -> None:
    # Snell's law for n 1.4906 at 45°: asin(sin 45°/1.4906) = 28.318813°
    behind, total = refracted(falling(45.0), UP, 1.0 / 1.4906)
    assert off_normal(behind) == pytest.approx(28.318813, abs=1e-6)
    assert not total[0]


def test_critical_angle_of_acrylic() -> None:
    # asin(1/1.49) = 42.1552°: just inside light leaves along the face, just outside it stays in.
    critical = 42.155184250809704
    assert INDEX == 1.49
    behind, total = refracted(falling(critical - 1e-6), UP, INDEX)
    assert not total[0]
    assert off_normal(behind) == pytest.approx(90.0, abs=0.05)
    assert refracted(falling(critical + 1e-6), UP, INDEX)[1][0]


def test_straight_on_nothing_bends() -> None:
    for ratio in (INDEX, 1.0 / INDEX, 1.0):
        assert refracted(falling(0.0), UP, ratio)[0] == pytest.approx(falling(0.0))


@given(st.floats(0.0, 89.9), st.floats(0.0, 360.0))
def test_in_and_out_again_is_the_same_ray(angle: float, turn: float) -> None:
    across = np.sin(np.radians(angle))
    way = np.array(
        [[across * np.cos(np.radians(turn)), across * np.sin(np.radians(turn)), -np.cos(np.radians(angle))]]
    )
    inside, total = refracted(way, UP, 1.0 / INDEX)
    assert not total[0]
    assert np.linalg.norm(inside) == pytest.approx(1.0)
    assert np.sin(np.radians(off_normal(inside))) == pytest.approx(across / INDEX, abs=1e-12)
    outside, total = refracted(inside, UP, INDEX)
    assert not total[0]
    assert outside == pytest.approx(way, abs=1e-9)


@given(st.floats(-89.0, 89.0))
def test_a_mirror_turns_only_the_part_along_its_normal(angle: float) -> None:
    way = falling(angle)
    back = reflected(way, UP)
    assert back == pytest.approx(way * [1.0, 1.0, -1.0])
    assert reflected(way, -UP) == pytest.approx(back)
