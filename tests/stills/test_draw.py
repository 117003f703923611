"""The lamp's picture: its size, its light, which side is seen, and what cannot be drawn."""

import numpy as np
import pytest

from stackview.errors import OutputError
from stackview.stills.draw import draw
from stackview.stills.mix import evening_mix
from tests.stills.demos import demo

SIZE = (96, 72)


def test_a_picture_has_its_size_and_the_lamp_in_its_middle() -> None:
    picture = draw(*demo("moor-drum"), size=SIZE)
    assert picture.shape == (72, 96, 3)
    assert picture.dtype == np.uint8
    # Walnut and birch are warmer than the backdrop.
    warm = picture[..., 0].astype(int) - picture[..., 2]
    assert warm[26:46, 38:58].mean() > warm[:8].mean() + 20


def test_a_whole_turn_is_the_same_picture() -> None:
    one, other = (draw(*demo("moor-drum"), bearing=bearing, size=SIZE) for bearing in (30.0, 390.0))
    assert np.abs(one.astype(int) - other).max() <= 1


def test_a_mix_of_its_own_changes_the_light_alone() -> None:
    day, dim = (draw(*demo("moor-drum"), size=SIZE, **mix) for mix in ({}, {"mix": evening_mix(350.0)}))
    assert day[:8].mean() > 2.0 * dim[:8].mean()
    assert day.shape == dim.shape


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"elevation": 91.0}, "elevation"),
        ({"bearing": float("nan")}, "bearing"),
        ({"size": (0, 72)}, "width"),
        ({"size": (96, 10**6)}, "height"),
    ],
)
def test_views_that_cannot_be_drawn_are_refused_before_anything_is_baked(
    wrong: dict[str, object], says: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("stackview.stills.draw.baked", lambda _: pytest.fail("it is baked"))
    with pytest.raises(OutputError, match=says):
        draw(*demo("moor-drum"), **wrong)
