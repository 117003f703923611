"""A hot-spot ratio in a word."""

import pytest

from stackview.glow.spot_words import word_for, word_known


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
