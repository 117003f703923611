"""What gathered light tells of a plate, from light that is known."""

import numpy as np
import pytest

from stackview.glow.seen_light import LOTS
from stackview.spots.gathering import Gathering
from stackview.spots.plate_views import PlateView
from stackview.spots.ways import Arrived

SHAPE = (20, 90)


def view() -> PlateView:
    columns, rows = np.nonzero(np.ones(SHAPE).T)
    return PlateView(
        "plate", None, rows.astype(np.int32), columns.astype(np.int32), (0, 0), np.ones(SHAPE, bool)
    )


def gathered(level: np.ndarray, each: int, seed: int = 1, lots: int = LOTS, depth: float = 0.0) -> Gathering:
    """Every pixel gets so many ways in each group, a tenth of which bring all its light."""
    chance = np.random.default_rng(seed)
    own, pixels = Gathering(view(), 0.8, 12.0, depth), SHAPE[0] * SHAPE[1]
    flat = level[view().rows, view().columns]
    cells, values = [], []
    for lot in range(lots):
        came = chance.binomial(each, 0.1, pixels)
        cells.append(np.repeat(np.arange(pixels), came) + lot * pixels)
        values.append(np.repeat(flat * 10.0, came))
    cell, value = np.concatenate(cells).astype(np.int32), np.concatenate(values).astype(np.float32)
    led = (view().columns[cell % pixels] // 30).astype(np.int32)
    no = np.zeros(len(cell), bool)
    own.take_seen(Arrived(cell, led, value, no, no), np.full(pixels, float(each)))
    return own


def test_an_even_plate_is_even_and_as_bright_as_it_is() -> None:
    told = gathered(np.full(SHAPE, 80.0), 3).told()
    assert told.mean == pytest.approx(80.0, rel=0.05)
    assert told.ratio < 1.15
    assert told.ratio_error < 0.3


def test_a_spot_has_its_ratio_within_its_error_and_its_light_points() -> None:
    x = np.indices(SHAPE)[1]
    level = 20.0 + 100.0 * np.exp(-((x - 45.0) ** 2) / (2 * 4.0**2))
    told = gathered(level, 10).told()
    # Along the row by hand: the surround is a Gaussian mean of 12 pixels, cut at the ends.
    weights = np.exp(-0.5 * ((np.arange(90)[:, None] - np.arange(90)) / 12.0) ** 2)
    around = weights @ level[0] / weights.sum(axis=1)
    exact = (level[0] / around).max()
    assert told.ratio == pytest.approx(exact, rel=max(told.ratio_error, 0.05))
    assert told.makers == (1,)
    assert told.peak == pytest.approx(120.0, rel=0.15)


def test_the_error_holds_the_truth_however_few_the_ways() -> None:
    x = np.indices(SHAPE)[1]
    level = 20.0 + 100.0 * np.exp(-((x - 45.0) ** 2) / (2 * 4.0**2))
    weights = np.exp(-0.5 * ((np.arange(90)[:, None] - np.arange(90)) / 12.0) ** 2)
    exact = (level[0] / (weights @ level[0] / weights.sum(axis=1))).max()
    tried = [gathered(level, each, seed).told() for each in (1, 3) for seed in range(6)]
    held = [exact / (1 + told.ratio_error) <= told.ratio <= exact * (1 + told.ratio_error) for told in tried]
    assert np.mean(held) >= 0.9


def test_light_that_comes_from_deep_has_no_finer_detail_and_is_known_better() -> None:
    # A point 30 pixels deep in a plate that spreads: 1/(1 + r²/d²)² on its face (cos⁴θ, Lambert's law).
    rows, columns = np.indices(SHAPE)
    level = 200.0 / (1.0 + ((rows - 10.0) ** 2 + (columns - 45.0) ** 2) / 30.0**2) ** 2
    plain = [gathered(level, 1, seed).told() for seed in range(6)]
    deep = [gathered(level, 1, seed, depth=30.0).told() for seed in range(6)]
    assert np.mean([abs(told.peak / 200.0 - 1.0) for told in deep]) < 0.12
    assert np.mean([told.ratio_error for told in deep]) < np.mean([told.ratio_error for told in plain])


def test_more_light_is_known_better() -> None:
    x = np.indices(SHAPE)[1]
    level = 20.0 + 40.0 * np.exp(-((x - 45.0) ** 2) / (2 * 4.0**2))
    assert gathered(level, 30).told().ratio_error < gathered(level, 1).told().ratio_error


def test_a_plate_that_nothing_reached_is_dark() -> None:
    own = Gathering(view(), 0.8, 12.0)
    none = np.zeros(0, np.int32)
    own.take_seen(
        Arrived(none, none, none.astype(np.float32), none.astype(bool), none.astype(bool)),
        np.ones(SHAPE[0] * SHAPE[1]),
    )
    told = own.told()
    assert (told.mean, told.peak, told.makers) == (0.0, 0.0, ())


def test_light_of_both_directions_adds_up() -> None:
    own, pixels = gathered(np.full(SHAPE, 30.0), 3), SHAPE[0] * SHAPE[1]
    cell = np.arange(pixels * LOTS, dtype=np.int32)
    # Each of the groups holds an eighth of the light that was thrown.
    no = np.zeros(len(cell), bool)
    light = Arrived(cell, np.zeros(len(cell), np.int32), np.full(len(cell), 50.0 / LOTS, np.float32), no, no)
    own.take_thrown(light, 1000)
    assert own.told().mean == pytest.approx(80.0, rel=0.05)
