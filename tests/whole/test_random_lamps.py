"""Random lamps from the file's own grammar are answered rightly or refused clearly; ten thousand by a command of its own."""

import tomllib
from collections import Counter

import pytest

from tests.whole.answers import ANSWERED, REFUSED, answer
from tests.whole.random_lamps import random_lamp


def test_a_number_always_gives_the_same_lamp_and_each_is_sound_toml() -> None:
    texts = [random_lamp(number) for number in range(200)]
    assert texts == [random_lamp(number) for number in range(200)]
    assert len(set(texts)) == 200
    for text in texts:
        assert {"name", "materials", "layer"} <= tomllib.loads(text).keys()


@pytest.mark.slow
def test_hundreds_are_answered_or_refused() -> None:
    tally = Counter(answer(random_lamp(number)) for number in range(200))
    assert tally[ANSWERED] + tally[REFUSED] == 200
    assert tally[ANSWERED] >= 15  # else nothing was tried


@pytest.mark.parametrize("milliamps", ["0", "-1", "0.09"])
def test_a_light_that_draws_nothing_is_refused(milliamps: str) -> None:
    text = (
        'name = "x"\nmaterials = { m = { wood = "ash", sold = 9 } }\n'
        'layer = [{ name = "a", material = "m", outline = { circle = 90 } }]\n'
        f"light = [{{ diode = {{}}, watts = 3, milliamps = {milliamps} }}]\n"
    )
    assert answer(text) == REFUSED
