"""Noise is taken out, details that are none of it stay."""

import numpy as np
import pytest

from stackview.glow.blur import masked_blur
from stackview.glow.seen_light import LOTS, blurred_across, seen_light

SHAPE = (24, 96)
MASK = np.ones(SHAPE, np.float32)


def grains(level: np.ndarray, ways: float, seed: int = 1) -> np.ndarray:
    """Light by groups that comes in grains: so many ways to a pixel, each one all or nothing."""
    chance = np.random.default_rng(seed)
    return (chance.poisson(ways / LOTS, (LOTS, *SHAPE)) * LOTS / ways * level).astype(np.float32)


def test_even_light_in_grains_looks_even() -> None:
    seen = seen_light(grains(np.full(SHAPE, 50.0), 0.3), np.zeros((LOTS, *SHAPE), np.float32), MASK, 0.8, 0.3)
    picture = seen.clean.mean(axis=0)
    assert picture.mean() == pytest.approx(50.0, rel=0.1)
    assert picture.max() / picture.mean() < 1.25


def test_a_true_spot_stays_as_high_as_the_eye_sees_it() -> None:
    y, x = np.indices(SHAPE)
    spot = 20.0 + 180.0 * np.exp(-((x - 40) ** 2 + (y - 12) ** 2) / (2 * 3.0**2))
    seen = seen_light(grains(spot, 200.0), np.zeros((LOTS, *SHAPE), np.float32), MASK, 0.8, 200.0)
    exact = masked_blur(spot, MASK > 0, 0.8).max()
    assert seen.clean.mean(axis=0).max() == pytest.approx(exact, rel=0.06)


def test_what_was_taken_out_is_told() -> None:
    x = np.indices(SHAPE)[1]
    ripple = 50.0 * (1 + 0.6 * np.cos(2 * np.pi * x / 8))
    none = np.zeros((LOTS, *SHAPE), np.float32)
    poor, good = (seen_light(grains(ripple, ways), none, MASK, 0.8, ways) for ways in (0.2, 200.0))
    assert np.ptp(good.clean.mean(axis=0)[4:20, 8:88]) > 40.0
    assert good.taken < 6.0
    # Its root mean square is 50 · 0.6/√2 = 21 before the eye's blur.
    assert 5.0 < poor.taken < 40.0


def test_light_from_matt_faces_has_no_fine_detail() -> None:
    dot = np.zeros((LOTS, *SHAPE), np.float32)
    dot[:, 12, 48] = 1000.0
    sharp = seen_light(dot, 0 * dot, MASK, 0.8, 1.0).clean.mean(axis=0)
    even = seen_light(0 * dot, dot, MASK, 0.8, 1.0).clean.mean(axis=0)
    assert even.max() < 0.2 * sharp.max()
    assert even.sum() == pytest.approx(sharp.sum(), rel=0.05)


def test_blur_within_a_mask_is_that_of_the_definition() -> None:
    chance = np.random.default_rng(3)
    values, mask = chance.random(SHAPE), np.zeros(SHAPE)
    mask[4:20, 10:80] = 1.0
    fine = np.exp(-0.5 * (np.arange(-12, 13) / 2.0) ** 2)
    kernel = (fine / fine.sum()).astype(np.float32)
    ours = blurred_across((values * mask).astype(np.float32), kernel) / np.maximum(
        blurred_across(mask.astype(np.float32), kernel), 1e-6
    )
    exact = masked_blur(values, mask > 0, 2.0)
    assert np.abs(ours - exact)[mask > 0].max() < 2e-3


def test_where_chance_rules_less_is_taken_out_of_the_lenient_picture() -> None:
    x = np.indices(SHAPE)[1]
    ripple = 50.0 * (1 + 0.6 * np.cos(2 * np.pi * x / 16))
    none = np.zeros((LOTS, *SHAPE), np.float32)
    poor, good = (seen_light(grains(ripple, ways), none, MASK, 0.8, ways) for ways in (1.0, 500.0))
    inner = np.s_[4:20, 8:88]
    assert np.ptp(poor.lenient[inner]) > np.ptp(poor.clean.mean(axis=0)[inner])
    assert good.lenient[inner] == pytest.approx(good.clean.mean(axis=0)[inner], rel=0.05)
