"""The maker of what sanded faces do after their first facet: its parts hold what they must, and it makes what is shipped."""

import numpy as np
import pytest

from stackview.glow.sanded_table import sanded_faces
from stackview.glow.tables.make_sanded_table import (
    NODES,
    all_bounces,
    balanced,
    lobe,
    node_cosines,
    node_weights,
    one_scattering,
    passing_ends,
    rows,
    wide_lobe,
)
from stackview.sight.refraction import INDEX


def test_weights_add_up_what_is_known_in_closed_form() -> None:
    # ∫ dμ = 1 and ∫ 2μ dμ = 1.
    assert node_weights().sum() == pytest.approx(1.0, abs=1e-6)
    assert (2.0 * node_weights() * node_cosines()).sum() == pytest.approx(1.0, abs=1e-3)


def test_one_scattering_gives_no_more_than_it_gets_and_loses_most_at_rough_faces() -> None:
    kept = {}
    for alpha in (0.05, 0.5):
        one = one_scattering(alpha, False, 1)
        kept[alpha] = one.back + one.on
        assert kept[alpha].max() < 1.0 + 1e-6
    assert kept[0.05][-1] > 0.998
    assert kept[0.5][-1] < kept[0.05][-1]
    # Straight onto a nearly smooth face: Fresnel's ((n − 1)/(n + 1))² goes back.
    assert one_scattering(0.05, False, 1).back[-1] == pytest.approx((0.49 / 2.49) ** 2, abs=0.004)


@pytest.mark.parametrize("inside", [False, True])
def test_one_scattering_is_what_walks_do_where_they_meet_one_facet(inside: bool) -> None:
    # A face that is nearly smooth, neither grazed nor about to reflect all: walks meet no second facet there.
    steep = node_cosines() > (0.85 if inside else 0.5)
    every, one = all_bounces(0.02, inside, 1), one_scattering(0.02, inside, 1)
    for walks, told in ((every.back, one.back), (every.on, one.on)):
        assert walks[steep] == pytest.approx(told[steep], abs=0.008)
    assert every.along[steep] == pytest.approx(one.along[steep], abs=0.008)


def test_a_wholly_reflecting_lobe_gives_back_all_but_what_it_shades() -> None:
    # Straight on, facets of width 1 are spread as cos θ/π: half of them throw light down, and the other half evenly over
    # μ, of which G₁ = 2μ/(1 + μ) leaves: ½ ∫ 2μ/(1 + μ) dμ = 1 − ln 2. Narrow ones shade hardly anything.
    assert lobe(1.0)[0].sum(axis=1)[-1] == pytest.approx(1.0 - np.log(2.0), abs=0.001)
    assert lobe(0.15)[0].sum(axis=1)[-1] == pytest.approx(1.0, abs=0.03)


def test_balanced_factors_give_what_is_wanted_and_nothing_where_nothing_is() -> None:
    thrown, _ = lobe(0.4)
    wanted = 0.3 - 0.1 * node_cosines()
    k = balanced(thrown, wanted)
    assert k * (thrown @ k) == pytest.approx(wanted, abs=1e-4)
    assert not balanced(thrown, np.zeros(NODES)).any()


def test_a_lobe_of_the_same_width_is_found_again() -> None:
    thrown, along = lobe(0.4)
    assert wide_lobe(thrown.sum(axis=1), along.sum(axis=1)) == pytest.approx(0.4, abs=0.005)


def test_what_passes_after_more_facets_is_its_share_and_reciprocal() -> None:
    rise = node_cosines()
    inside = 0.03 - 0.02 * rise
    # Light passes alike both ways: over all angles, n² times as much from outside.
    outside = 0.5 * (1.0 - rise) ** 2
    mean = 2.0 * node_weights() * rise
    outside *= INDEX**2 * (mean @ inside) / (mean @ outside)
    out, into = passing_ends(outside, inside)
    assert INDEX**2 * out * (mean @ into) == pytest.approx(outside, rel=1e-6)
    assert into * (mean @ out) == pytest.approx(inside, rel=1e-6)
    assert not np.concatenate(passing_ends(np.zeros(NODES), np.zeros(NODES))).any()


@pytest.mark.slow
def test_the_table_is_what_its_maker_makes() -> None:
    # The maker's own chance is steady; with an eighth of its samples each curve is the same within its noise.
    wide, shares, ends = rows(0.3, 65_536)
    told = sanded_faces().at(0.3)
    assert wide == pytest.approx(told[0], abs=0.01)
    assert shares == pytest.approx(told[1], abs=0.008)
    some = slice(16, None)
    assert ends[:, some] == pytest.approx(told[2][:, some], abs=0.06)
