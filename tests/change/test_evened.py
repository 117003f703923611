"""What a change does to spots: better and worse by more than the errors, and the words for it."""

from dataclasses import replace

import pytest

from stackview.change.evened import Evened, LightAndPower
from stackview.spots.eye_spots import PlateSpots

PLATE = PlateSpots("plate", 4.0, 0.1, 900.0, 300.0, 0.02, (1,))


def to(ratio: float, error: float = 0.1, layer: str = "plate") -> Evened:
    return Evened("sofa", PLATE, replace(PLATE, ratio=ratio, ratio_error=error, layer=layer))


def test_better_and_worse_are_by_more_than_both_errors_together() -> None:
    # ln 1.1 twice, at right angles: a factor of e^0.1348 = 1.144
    assert [to(4.0 / by).is_better for by in (1.14, 1.15)] == [False, True]
    assert [to(4.0 * by).is_worse for by in (1.14, 1.15)] == [False, True]
    assert not to(2.0, error=1.2).is_better


def test_words() -> None:
    assert to(1.25, 0.02).text == 'from 4.0 ± 0.4 (plate) to 1.2 ± 0.0 (even) for "sofa"'
    assert to(1.7, 0.1, "lid").text == 'from 4.0 ± 0.4 (plate) to 1.7 ± 0.2 (lid, soft) for "sofa"'
    assert "to 60 ± 10 (single LEDs)" in to(60.0, 10.0 / 60.0).text


@pytest.mark.parametrize(
    ("lumens", "words"),
    [
        ((28.4, 19.2), "light out 28 to 19 lm"),
        ((28.4, 13.9), "light out 28 to 14 lm, less than half"),
        ((8.16, 4.52), "light out 8.2 to 4.5 lm"),
        ((0.9, 0.45), "light out 0.90 to 0.45 lm"),
    ],
)
def test_light_out(lumens: tuple[float, float], words: str) -> None:
    assert LightAndPower(lumens, None).brief == words


def test_power() -> None:
    assert LightAndPower((1.0, 1.0), (5.0, 5.01)).takes == "5.0 W as before"
    assert LightAndPower((1.0, 1.0), (5.0, 9.6)).takes == "9.6 W for 5.0 W"
    assert LightAndPower((1.0, 1.0), None).takes == "its power is not known"
