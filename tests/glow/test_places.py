"""Places that may be a plate's brightest: what groups of samples tell of them, and how well."""

import numpy as np
import pytest

from stackview.glow.places import BrightPlace, apart, scatter

GROUPS, PIXELS = 8, 30
TRUE = 50.0


def rare(chance: np.random.Generator, each: int, share: float = 0.02) -> np.ndarray:
    """Means (groups, pixels) of samples of which so few bring all the light; right on the mean."""
    return chance.binomial(each, share, (GROUPS, PIXELS)) / (each * share) * TRUE


def test_even_light_is_known_exactly_and_no_light_not_at_all() -> None:
    assert scatter(np.full((GROUPS, PIXELS), TRUE)) == (pytest.approx(TRUE), pytest.approx(0.0, abs=1e-12))
    assert scatter(np.zeros((GROUPS, PIXELS))) == (0.0, 1.0)


def test_light_that_came_once_may_as_well_have_come_twice() -> None:
    once = np.zeros((GROUPS, PIXELS))
    once[3, 7] = 4000.0
    assert scatter(once)[1] > 1.0


@pytest.mark.parametrize("share", [0.5, 0.02, 0.004])
def test_stated_errors_hold_for_samples_of_heavy_tails(share: float) -> None:
    # Asked: in 60 of 100 cases within the error, in 90 within twice it.
    off = []
    for seed in range(300):
        mean, error = scatter(rare(np.random.default_rng(seed), 16, share))
        off.append(abs(mean - TRUE) / max(mean * error, 1e-9))
    assert np.mean(np.array(off) < 1.0) > 0.6
    assert np.mean(np.array(off) < 2.0) > 0.9


def test_a_place_is_read_from_what_came_after_it_was_picked() -> None:
    chance, weights = np.random.default_rng(1), np.full((1, PIXELS), 1.0 / PIXELS)
    own = BrightPlace(np.arange(PIXELS), weights)
    own.take(np.full((GROUPS, PIXELS), 900.0) + chance.standard_normal((GROUPS, PIXELS)), 4)
    again = own.picked()
    assert (own.taken, again.taken, again.level) == (32, 0, 0.0)
    off = []
    for seed in range(100):
        again = own.picked()
        for step in range(3):
            again.take(rare(np.random.default_rng(1000 * seed + step), 32), 32)
        off.append(abs(again.level - TRUE) / (again.level * again.error))
    assert again.taken == 3 * 32 * GROUPS
    assert np.mean(np.array(off) < 1.0) > 0.6
    assert np.mean(np.array(off) < 2.0) > 0.9


def test_samples_dealt_out_by_weight_tell_more_and_their_error_holds() -> None:
    bell = np.exp(-0.5 * ((np.arange(PIXELS) - 14.5) / 4.0) ** 2)
    weights = (bell / bell.sum())[None]
    dealt = np.maximum(np.round(32 * BrightPlace(np.arange(PIXELS), weights).dealt), 1).astype(np.int64)
    assert dealt.sum() == pytest.approx(32 * PIXELS, rel=0.05)
    off, even, spread = [], [], []
    for seed in range(150):
        chance = np.random.default_rng(seed)
        own, flat = (BrightPlace(np.arange(PIXELS), weights) for _ in range(2))
        own.take(chance.binomial(dealt, 0.05, (GROUPS, PIXELS)) / (dealt * 0.05) * TRUE, dealt)
        flat.take(chance.binomial(32, 0.05, (GROUPS, PIXELS)) / (32 * 0.05) * TRUE, 32)
        off.append(abs(own.level - TRUE) / (own.level * own.error))
        spread.append(own.level)
        even.append(flat.level)
    assert np.mean(spread) == pytest.approx(TRUE, rel=0.02)
    # By Cauchy and Schwarz: all alike are worth as many times less as the squares of the weights add up to over their least.
    assert (np.std(even) / np.std(spread)) ** 2 == pytest.approx((weights**2).sum() * PIXELS, rel=0.35)
    assert np.mean(np.array(off) < 1.0) > 0.6
    assert np.mean(np.array(off) < 2.0) > 0.9


def test_what_is_lacking_brings_the_error_asked_for() -> None:
    weights = np.full((1, PIXELS), 1.0 / PIXELS)
    own, chance = BrightPlace(np.arange(PIXELS), weights), np.random.default_rng(5)
    own.take(rare(chance, 16), 16)
    more = int(own.lacks(0.02, TRUE) / GROUPS)
    assert more > 16
    own.take(rare(chance, more), more)
    assert own.error == pytest.approx(0.02, rel=0.4)


def test_of_places_side_by_side_the_brightest_is_picked() -> None:
    weights = np.zeros((2, PIXELS))
    weights[0, :15], weights[1, 10:25] = 1.0 / 15, 1.0 / 15
    light = np.full((GROUPS, PIXELS), 10.0)
    light[:, 20:] = 40.0
    own = BrightPlace(np.arange(100, 100 + PIXELS), weights)
    own.take(light, 4)
    assert own.best == 1
    assert own.picked().pixels.tolist() == list(range(110, 125))


def test_places_lie_apart_and_darkness_is_none() -> None:
    columns = np.arange(40)
    level = np.exp(-0.5 * ((columns - 11) / 2.0) ** 2) + 0.5 * (columns == 30)
    rows = np.zeros(40, int)
    assert apart(level, rows, columns, 6.0, 2) == [11, 30]
    assert apart(np.zeros(40), rows, columns, 6.0, 2) == []
