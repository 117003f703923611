"""The maker of the factors of sanded faces: its parts hold what they must, and it makes the table that is shipped."""

import numpy as np
import pytest

from stackview.glow.acrylic_faces import sanded_table
from stackview.glow.tables.make_sanded_table import NODES, balanced, factors, node_cosines, one_scattering


def test_one_scattering_gives_no_more_than_it_gets_and_loses_most_at_rough_faces() -> None:
    kept = {}
    for alpha in (0.05, 0.5):
        back, on = one_scattering(alpha, False, 1)
        kept[alpha] = (back + on).sum(axis=1)
        assert kept[alpha].max() < 1.0 + 1e-6
    assert kept[0.05][-1] > 0.998
    assert kept[0.5][-1] < kept[0.05][-1]
    # Straight onto a nearly smooth face: Fresnel's ((n − 1)/(n + 1))² goes back.
    assert one_scattering(0.05, False, 1)[0].sum(axis=1)[-1] == pytest.approx((0.49 / 2.49) ** 2, abs=0.004)


def test_balanced_factors_give_what_is_wanted() -> None:
    chance = np.random.default_rng(1)
    rise = node_cosines()
    back, on = (chance.random((NODES, NODES)) * 0.4 / NODES for _ in range(2))
    wanted = np.stack([0.3 - 0.1 * rise, 0.35 - 0.1 * rise])
    # Both sides pass alike on the mean, as light that goes either way must.
    wanted[1] += wanted[0].mean() - wanted[1].mean()
    found = balanced(wanted, (back, on), (back, on.T))
    assert found[0] * (back @ found[0]) == pytest.approx(wanted[0], abs=0.005)
    assert found[1] * (on @ found[3]) == pytest.approx(1.0 - wanted[0], abs=0.01)


@pytest.mark.slow
def test_the_table_is_what_its_maker_makes() -> None:
    # The maker's own chance is steady; with a quarter of its samples each curve is the same to a few per cent.
    made, missed = factors(0.3, 65_536)
    assert missed < 0.004
    told = sanded_table().at(0.3)
    some = slice(16, None)
    assert made[0, some] * made[0, some] == pytest.approx(told[0, some] * told[0, some], rel=0.1)
    assert made[1, some] * made[3, -8] == pytest.approx(told[1, some] * told[3, -8], rel=0.1)
