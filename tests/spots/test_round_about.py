"""Light round a lamp varies by no more than its ways bear out."""

import numpy as np
import pytest

from stackview.glow.intensity import Intensity, even_gammas, even_planes, weights
from stackview.spots.round_about import evened, kept_share, ring_round


def drawn(level, seed: int, batches: int = 8, each: int = 400):
    """Ways at bearings drawn from a density over the turn, batch by batch."""
    chance = np.random.default_rng(seed)
    bearing = chance.random(40 * batches * each) * 2 * np.pi
    bearing = bearing[chance.random(len(bearing)) * 2.0 < level(bearing)][: batches * each]
    return bearing, np.full(len(bearing), 1.0 / each), np.arange(len(bearing)) % batches


@pytest.mark.parametrize("seed", range(5))
def test_a_round_lamps_light_does_not_vary_by_chance(seed: int) -> None:
    mean, error, least, most = ring_round(*drawn(np.ones_like, seed), 8)
    assert mean == pytest.approx(1.0)
    assert error < 0.05
    assert most - least < 0.03


def test_what_truly_varies_round_it_is_told() -> None:
    mean, _, least, most = ring_round(*drawn(lambda turn: 1.0 + 0.6 * np.cos(3 * turn), 1, each=2000), 8)
    assert mean == pytest.approx(1.0)
    assert least == pytest.approx(0.4, abs=0.12)
    assert most == pytest.approx(1.6, abs=0.12)


def test_waves_that_chance_explains_are_left_out() -> None:
    assert kept_share(np.array([1.0, 10.0]), np.array([0.1, 0.1])).tolist() == pytest.approx([0.0, 0.984])


def test_intensity_keeps_its_flux_and_becomes_even_where_it_is() -> None:
    planes, gammas = even_planes(), even_gammas()
    chance = np.random.default_rng(3)
    true = 5.0 + 3.0 * np.cos(np.radians(4 * planes))[:, None] * np.sin(np.radians(gammas)) ** 2
    upper = np.where(gammas > 90.0, 5.0, true)
    grids = [Intensity(planes, gammas, upper * chance.gamma(20.0, 0.05, upper.shape)) for _ in range(8)]
    found, error = evened(grids)
    before = np.mean([grid.lumens for grid in grids])
    assert found.lumens == pytest.approx(before, rel=1e-9)
    high = found.candela[:, gammas > 100.0]
    assert (high.std(axis=0) / high.mean(axis=0)).max() < 0.01
    assert found.peak == pytest.approx(8.0, rel=0.06)
    assert 0.0 < error < 0.5
    rows = (weights(planes, gammas) * found.candela).sum(axis=0)
    assert rows == pytest.approx(
        np.mean([(weights(planes, gammas) * g.candela).sum(axis=0) for g in grids], axis=0)
    )
