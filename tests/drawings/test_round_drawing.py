"""An eye's own map drawn: words whole and apart, the distance said, the size asked for, colours where eyes count."""

import pytest

from stackview.drawings.round_drawing import round_picture, round_sheet
from stackview.errors import StackviewError
from stackview.study import Study
from tests.drawings.drawn import EYES, words_of
from tests.drawings.test_room_drawing import check_apart, study_of


@pytest.mark.parametrize(("unit", "size"), [("mm", (1200, 800)), ("in", (640, 480))])
def test_words_are_whole_and_apart_and_say_the_distance(unit: str, size: tuple[int, int]) -> None:
    study = study_of("hexagons", EYES, unit)
    sheet = round_sheet(study, 1500.0, size)
    check_apart(sheet)
    words = " ".join(words_of(sheet))
    assert f"Test Lamp from {study.lamp.units.alone.show(1500.0)}:" in words
    assert "standing" in words
    # Eyes at other distances have no place in it.
    assert "lying" not in words


def test_a_map_without_an_eye_says_the_most_that_shows() -> None:
    study = study_of("hexagons", EYES)
    most = int(study.sightlines.room_round(700.0).counts[0].max())
    assert most > 1
    assert f"up to {most} LEDs bare" in " ".join(words_of(round_sheet(study, 700.0, (640, 480))))


def test_picture_has_exactly_the_size_asked_for_and_no_place_inside_the_lamp() -> None:
    study = Study.read("demos/moor-drum.toml")
    assert round_picture(study, 900.0, (701, 603)).shape == (603, 701, 3)
    with pytest.raises(StackviewError, match="inside the lamp"):
        round_picture(study, 30.0, (701, 603))
