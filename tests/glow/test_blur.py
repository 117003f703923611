import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.ndimage import gaussian_filter

from stackview.glow.blur import FULL_WIDTH, masked_blur


@given(st.floats(0.4, 6.0), st.integers(0, 1000))
def test_an_even_field_stays_even_whatever_the_mask(sigma, seed):
    mask = np.random.default_rng(seed).random((24, 30)) < 0.4
    mask[12, 15] = True
    found = masked_blur(np.full(mask.shape, 7.0), mask, sigma)
    assert found[mask] == pytest.approx(7.0)


def test_without_a_mask_it_is_the_gaussian_of_scipy():
    values = np.zeros((61, 61))
    values[30, 30] = 1.0
    found = masked_blur(values, np.ones(values.shape, bool), 2.0)
    assert found[25:36, 25:36] == pytest.approx(
        gaussian_filter(values, 2.0, truncate=8)[25:36, 25:36], abs=1e-6
    )


def test_nothing_comes_in_from_outside_the_mask_or_from_the_other_side():
    values, mask = np.zeros((20, 40)), np.ones((20, 40), bool)
    values[:, :2] = 1000.0
    mask[:, :2] = False
    assert masked_blur(values, mask, 3.0)[mask] == pytest.approx(0.0, abs=1e-9)
    values[:, :2], values[:, -1] = 0.0, 1000.0
    assert masked_blur(values, np.ones((20, 40), bool), 1.0)[:, 0] == pytest.approx(0.0, abs=1e-6)


def test_an_infinite_surround_is_the_mean_and_the_full_width_is_that_of_a_gaussian():
    values = np.arange(12.0).reshape(3, 4)
    mask = values > 3
    assert masked_blur(values, mask, np.inf) == pytest.approx(values[mask].mean())
    assert np.exp(-((FULL_WIDTH / 2.0) ** 2) / 2.0) == pytest.approx(0.5)
