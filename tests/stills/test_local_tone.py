import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.light.colour import LUMINANCE
from stackview.stills.local_tone import box_sum, compressed, guided


def noise(shape: tuple[int, ...], seed: int = 1) -> np.ndarray:
    return np.random.default_rng(seed).normal(0.0, 1.0, shape)


def test_box_sums_are_those_of_plain_loops() -> None:
    values = noise((9, 7))
    found = box_sum(values, 2)
    for row in range(9):
        for column in range(7):
            window = values[max(row - 2, 0) : row + 3, max(column - 2, 0) : column + 3]
            assert found[row, column] == pytest.approx(window.sum())


def test_the_filter_in_its_limits() -> None:
    # He et al. 2013, section 3.2: smooth → 0 leaves the image, smooth → ∞ gives the mean of means.
    values = noise((30, 40))
    assert guided(values, 4, 1e-12) == pytest.approx(values, abs=1e-6)
    count = box_sum(np.ones_like(values), 4)
    twice = box_sum(box_sum(values, 4) / count, 4) / count
    assert guided(values, 4, 1e12) == pytest.approx(twice, abs=1e-6)
    assert guided(np.full((20, 20), 3.0), 4, 0.05) == pytest.approx(np.full((20, 20), 3.0))


def test_a_large_step_stays_and_fine_noise_goes() -> None:
    values = np.where(np.arange(80) < 40, 0.0, 2.0)[None] + 0.03 * noise((60, 80))
    smooth = guided(values, 6, 0.05)
    assert smooth[:, 30:36].std() < 0.02
    assert smooth[:, 41].mean() - smooth[:, 38].mean() > 1.85


def scene(low: float, high: float) -> np.ndarray:
    image = np.full((60, 80, 3), low, np.float32)
    image[20:40, 30:50] = high
    return image


@given(st.floats(1.6, 5.0), st.floats(0.5, 1.5))
def test_the_dark_ends_at_so_many_decades_under_the_lit(range_: float, decades: float) -> None:
    image = scene(100.0 / 10**range_, 100.0)
    found = compressed(image, 100.0, 1e-6, decades) @ LUMINANCE
    assert np.log10(found[30, 40] / found[0, 0]) == pytest.approx(decades, abs=0.05)
    assert found[30, 40] == pytest.approx(100.0, rel=0.05)


def test_a_picture_of_small_range_is_left_alone() -> None:
    image = scene(20.0, 100.0) * np.array([1.0, 0.8, 0.5], np.float32)
    assert compressed(image, 100.0, 1e-3) == pytest.approx(image, rel=1e-4)


def test_fine_detail_keeps_its_contrast_in_the_dark() -> None:
    image = scene(0.1, 1000.0)
    image[:, :, :] *= (1.0 + 0.2 * (np.arange(80) % 4 < 2))[None, :, None]
    found = compressed(image, 1000.0, 1e-4) @ LUMINANCE
    assert found[5, 0:60:4].mean() / found[5, 2:60:4].mean() == pytest.approx(1.2, abs=0.03)


def test_black_stays_black_and_finite() -> None:
    image = scene(0.0, 500.0)
    found = compressed(image, 500.0, 0.04)
    assert np.isfinite(found).all()
    assert (found[0, 0] == 0.0).all()
