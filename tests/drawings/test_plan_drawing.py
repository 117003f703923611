"""The plan: words whole and apart, the size asked for, eyes of that height at their worst bearings."""

import pytest

from stackview.drawings.plan_drawing import plan_picture, plan_sheet
from stackview.errors import StackviewError
from stackview.study import Study
from tests.drawings.drawn import EYES, words_of
from tests.drawings.test_room_drawing import check_apart, study_of


@pytest.mark.parametrize("eye", [None, "standing", "over it"])
def test_words_are_whole_and_apart(eye: str | None) -> None:
    sheet = plan_sheet(study_of("hexagons", EYES), eye, (900, 1000))
    check_apart(sheet)
    if eye is not None:
        assert eye in words_of(sheet)


def test_picture_has_exactly_the_size_asked_for() -> None:
    assert plan_picture(Study.read("demos/moor-drum.toml"), size=(701, 803)).shape == (803, 701, 3)


def test_a_name_that_no_eye_has_is_told_with_those_there_are() -> None:
    with pytest.raises(StackviewError, match="none of that name; the eyes are reader lying down, standing"):
        plan_picture(Study.read("demos/moor-drum.toml"), "sofa", (800, 900))
