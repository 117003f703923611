"""The room picture: words whole and apart, exactly the size asked for, eyes where they are with their own counts."""

from itertools import combinations

import numpy as np
import pytest

from stackview.description.lamp import Eye
from stackview.description.units import Units
from stackview.drawings.chart_style import Sheet
from stackview.drawings.eye_seen import one_eye
from stackview.drawings.room_drawing import room_picture, room_sheet, room_ticks
from stackview.study import Study
from tests.drawings.drawn import EYES, TABLE, studied, words_of
from tests.stills import lamps

MANY = tuple(
    Eye(f"somebody on the blue chair {k:02d}", 400.0 + (k * k * 53) % 3300, 500.0 + (k * 397) % 1300)
    for k in range(12)
)


def check_apart(sheet: Sheet) -> None:
    """Every word lies inside the picture and off every other word."""
    texts = [text for text in sheet.axes.texts if text.get_text()]
    boxes = [text.get_window_extent(sheet.renderer) for text in texts]
    for text, box in zip(texts, boxes, strict=True):
        assert box.x0 >= 0, text.get_text()
        assert box.y0 >= 0, text.get_text()
        assert box.x1 <= sheet.width, text.get_text()
        assert box.y1 <= sheet.height, text.get_text()
    for (one, first), (other, second) in combinations(zip(texts, boxes, strict=True), 2):
        apart = (
            first.x1 <= second.x0 + 0.5
            or second.x1 <= first.x0 + 0.5
            or first.y1 <= second.y0 + 0.5
            or second.y1 <= first.y0 + 0.5
        )
        assert apart, f"{one.get_text()!r} overlaps {other.get_text()!r}"


def study_of(name: str, eyes: tuple[Eye, ...], unit: str = "mm") -> Study:
    lamp = getattr(lamps, name)()
    lines, stack = studied(lamp.placed, lamp.points, eyes=eyes, surface=TABLE, unit=unit)
    return Study.of(stack, light=lamp.light if hasattr(lamp, "light") else None, lines=lines)


@pytest.mark.parametrize("eyes", [EYES, MANY, MANY[:1]], ids=["odd", "many", "one"])
@pytest.mark.parametrize("size", [(1600, 900), (800, 600)])
def test_words_are_whole_and_apart(eyes: tuple[Eye, ...], size: tuple[int, int]) -> None:
    check_apart(room_sheet(study_of("hexagons", eyes), None, size))


def test_every_eye_is_named_with_its_own_count() -> None:
    study = study_of("hexagons", MANY)
    words = words_of(room_sheet(study, None, (1600, 900)))
    for seen in study.eyes:
        assert seen.eye.name in words
        for line in one_eye(seen, None).words("LED"):
            assert line in words


def test_picture_has_exactly_the_size_asked_for_from_the_front_too() -> None:
    study = study_of("hexagons", EYES, "in")
    for bearing in (None, 0.0):
        picture = room_picture(study, bearing, (1001, 701))
        assert picture.shape == (701, 1001, 3)


def test_ticks_are_round_in_the_lamps_own_unit() -> None:
    assert [words for _, words in room_ticks(Units("in"), 4000.0, 900.0)] == ["0", "5 ft", "10 ft"]
    places = np.array([mm for mm, _ in room_ticks(Units("mm"), 4000.0, 300.0)])
    assert np.allclose(np.diff(places), 500.0)
