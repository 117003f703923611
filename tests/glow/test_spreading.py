"""Spreading of samples: shares that sum to one, the curve's width, and even light that stays even."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.glow.spreading import plane_shares, spread_out


def test_shares_sum_to_one_and_vectors_stay_of_unit_length() -> None:
    unit = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.6, 0.0, -0.8]])
    sets = list(spread_out(unit, 2.0))
    assert sum(share for _, share in sets) == pytest.approx(1.0)
    for ways, _ in sets:
        assert np.linalg.norm(ways, axis=1) == pytest.approx(np.ones(3))


def test_the_curve_is_as_wide_as_asked_and_centred() -> None:
    # Rayleigh: mean square of the angle is 2σ²; a fortieth is lost with the tail beyond the last of 24.
    unit = np.array([[0.36, 0.48, 0.8]])
    ways = np.concatenate([way for way, _ in spread_out(unit, 1.5)])
    away = np.degrees(np.arccos(np.clip(ways @ unit[0], -1.0, 1.0)))
    assert np.sqrt((away**2).mean() / 2.0) == pytest.approx(1.5, rel=0.03)
    assert ways.mean(axis=0) == pytest.approx(unit[0], abs=0.004)


def test_without_a_width_the_samples_stay_themselves() -> None:
    unit = np.eye(3)
    ((ways, share),) = spread_out(unit, 0.0)
    assert share == 1.0
    assert ways.tolist() == unit.tolist()


@given(seed=st.integers(0, 99), count=st.integers(1, 12), width=st.floats(0.0, 1000.0))
def test_no_flux_is_lost_round_the_turn(seed: int, count: int, width: float) -> None:
    planes = np.sort(np.random.default_rng(seed).choice(360, count, replace=False)).astype(float)
    matrix = plane_shares(planes, width)
    assert matrix.sum(axis=0) == pytest.approx(np.ones(count))
    assert (matrix >= 0.0).all()


def test_even_light_stays_even_and_a_whole_turn_makes_it_so() -> None:
    planes = np.arange(0.0, 360.0, 5.0)
    assert plane_shares(planes, 3.0).tolist() == np.eye(72).tolist()
    assert plane_shares(planes, 41.0) @ np.ones(72) == pytest.approx(np.ones(72))
    one = np.zeros(72)
    one[7] = 72.0
    assert plane_shares(planes, 360.0) @ one == pytest.approx(np.ones(72), rel=1e-9)
