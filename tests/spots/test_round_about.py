"""Light round a lamp varies by no more than its ways bear out."""

import numpy as np
import pytest

from stackview.glow.intensity import Intensity, even_gammas, even_planes, of_rays, weights
from stackview.glow.symmetry import Symmetry
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


def test_a_peak_whose_waves_are_too_weak_to_be_kept_is_known_so_much_worse() -> None:
    planes, gammas = even_planes(), even_gammas()
    true = 5.0 + 0.12 * np.cos(np.radians(3 * planes))[:, None] * np.sin(np.radians(gammas)) ** 2
    off = []
    for seed in range(12):
        chance = np.random.default_rng(seed)
        noisy = [Intensity(planes, gammas, true * chance.gamma(20.0, 0.05, true.shape)) for _ in range(8)]
        found, error = evened(noisy)
        off.append((true.max() - found.peak) / error)
    # Sixty of a hundred are asked for within the error, ninety within twice it.
    assert np.mean(np.abs(off) < 1.0) > 0.6
    assert np.mean(np.abs(off) < 2.0) > 0.9


def test_a_lamp_of_known_symmetry_has_no_light_by_bearing_that_it_cannot_have() -> None:
    """Light of 4 periods and noise on few ways: a known 4-fold turn leaves no other wave; the mean is kept."""
    chance, batches = np.random.default_rng(3), 8
    bearing = chance.uniform(0.0, 2.0 * np.pi, 4000)
    lux = (1.0 + 0.5 * np.cos(4.0 * bearing) + 0.6 * np.cos(3.0 * bearing)) / 500.0
    batch = np.arange(4000) % batches
    known = ring_round(bearing, lux, batch, batches, Symmetry(4, 0.0))
    blind = ring_round(bearing, lux, batch, batches)
    assert known[0] == pytest.approx(blind[0])
    assert known[3] - known[2] == pytest.approx(1.0 * known[0], rel=0.15)
    assert blind[3] - blind[2] > 1.5 * (known[3] - known[2])
    even = ring_round(bearing, lux, batch, batches, Symmetry(0, 0.0))
    assert even[2] == even[3] == pytest.approx(even[0])


def test_intensity_of_a_round_lamp_has_its_flux_and_no_planes_of_its_own() -> None:
    chance = np.random.default_rng(5)
    grids = []
    for _ in range(8):
        way = chance.standard_normal((300, 3))
        way /= np.linalg.norm(way, axis=1, keepdims=True)
        grids.append(of_rays(way, np.full(300, 1.0 / 300), even_planes(24), even_gammas(19), spread=8.0))
    found, error = evened(grids, Symmetry(0, 0.0))
    assert np.ptp(found.candela, axis=0).max() < 1e-12
    assert found.lumens == pytest.approx(np.mean([grid.lumens for grid in grids]), rel=1e-6)
    assert 0.0 < error < 0.2 * found.peak
