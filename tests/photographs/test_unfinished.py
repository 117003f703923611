import numpy as np
import pytest

from stackview.photographs.unfinished import told_under


@pytest.mark.parametrize("size", [(600, 800), (90, 120)])
def test_words_stand_under_the_picture_and_never_in_it(size: tuple[int, int]) -> None:
    picture = np.random.default_rng(1).integers(0, 255, (*size, 3), dtype=np.uint8)
    found = told_under(picture, "Unfinished: stopped after 16 of 256 samples a pixel.")
    assert found.shape[0] > size[0]
    assert (found[: size[0], : size[1]] == picture).all()
    under = found[size[0] :]
    # There are words: some of it is ink, most is paper.
    ink = (under.mean(axis=2) < 100).mean()
    assert 0.001 < ink < 0.3


def test_many_words_take_more_lines() -> None:
    picture = np.zeros((600, 800, 3), np.uint8)
    few, many = (told_under(picture, "word " * count).shape[0] for count in (3, 40))
    assert many > few
