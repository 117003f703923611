"""Where spots merge for the eye."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.glow.merging import FARTHEST_MERGED, merges_at, sensitivity, word_for, word_known


def test_finest_grating_of_full_contrast_is_near_60_cycles_per_degree() -> None:
    # Campbell & Robson 1968 (tier B): cut-off near 60 cycles/degree; Barten's closed form puts it at 50.
    cycles = np.arange(30.0, 80.0, 0.1)
    limit = cycles[np.array([sensitivity(value) for value in cycles]) >= 1.0].max()
    assert 45.0 < limit < 65.0


def test_eye_sees_best_at_a_few_cycles_per_degree() -> None:
    # Best between 1 and 10 cycles/degree (Barten 1999, as colour-science's documentation tells it).
    cycles = np.geomspace(0.3, 60.0, 300)
    best = cycles[int(np.argmax([sensitivity(value) for value in cycles]))]
    assert 1.0 < best < 10.0


def test_one_value_by_hand() -> None:
    # u = 10, L = 100, X0 = 5: 5200·exp(−0.16·2^0.08)/√((1 + 5.76 + 64)(63/100^0.83 + 1/(1 − e^−2)))
    by_hand = 5200 * np.exp(-0.16 * 2**0.08) / np.sqrt(70.76 * (63 / 100**0.83 + 1 / (1 - np.exp(-2))))
    assert sensitivity(10.0) == pytest.approx(by_hand, rel=1e-12)


def test_full_contrast_merges_when_its_pitch_is_about_an_arc_minute() -> None:
    # 1′ at 1 m is 0.290888 mm (tier B); two lines 1′ apart are what a good eye just parts.
    distance = merges_at(2.0, 1.0)
    assert 0.9 < 60.0 * np.degrees(np.arctan(2.0 / distance)) < 1.4


@given(st.floats(0.5, 30.0), st.floats(0.003, 2.0), st.floats(1.1, 3.0))
def test_farther_apart_or_stronger_merges_farther_away(pitch: float, modulation: float, more: float) -> None:
    assert merges_at(pitch * more, modulation) >= merges_at(pitch, modulation)
    assert merges_at(pitch, min(modulation * more, 2.0)) >= merges_at(pitch, modulation)


def test_distance_is_in_proportion_to_the_pitch() -> None:
    assert merges_at(6.0, 0.1) == pytest.approx(2.0 * merges_at(3.0, 0.1))


def test_no_ripple_is_never_seen_and_a_coarse_one_everywhere() -> None:
    assert merges_at(10.0, 0.0) == 0.0
    assert merges_at(FARTHEST_MERGED / 500.0, 1.0) == float("inf")


@pytest.mark.parametrize(
    ("ratio", "word"),
    [(1.0, "even"), (1.29, "even"), (1.3, "soft"), (1.99, "soft"), (2.0, "spots"), (4.0, "single LEDs")],
)
def test_words_change_at_their_limits(ratio: float, word: str) -> None:
    assert word_for(ratio) == word


def test_no_word_for_what_is_not_known() -> None:
    assert word_known(3.0, 0.05) == word_for(3.0)
    assert word_known(3.0, 0.2) == f"about {word_for(3.0)}"
    assert word_known(3.0, 5.0) == "not known yet"
