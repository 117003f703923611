"""The section to an eye: every numbered ray stands in the key, and the words keep their places."""

import re

import pytest
from matplotlib.collections import LineCollection
from matplotlib.colors import to_hex

from stackview.description.lamp import Eye
from stackview.drawings.chart_style import KIND_COLOURS, Sheet
from stackview.drawings.section_drawing import section_drawing, section_sheet
from stackview.errors import StackviewError
from stackview.sight.bands import Kind
from tests import lamps as plain
from tests.drawings.drawn import EYES, SIZES, TABLE, check_words, studied, words_of
from tests.stills import lamps


def slot(*eyes: Eye, aside: float = 0.0):  # type: ignore[no-untyped-def]
    """Two square boards of 100 mm, 40 mm apart, with a light point on the axis and another higher up."""
    base, lid = plain.box("base", (-50, -50, 0), (50, 50, 10)), plain.box("lid", (-50, -50, 50), (50, 50, 60))
    points = plain.light_points([(0, 0, 20), (0, aside, 40)], [(1, 0, 0)] * 2)
    return studied((base, lid), points, eyes=eyes)


def slopes(sheet: Sheet) -> list[float]:
    """Of all long lines in the colour of bare rays."""
    found = []
    for each in sheet.axes.collections:
        if isinstance(each, LineCollection) and to_hex(each.get_colors()[0]) == KIND_COLOURS[Kind.BARE]:
            for segment in each.get_segments():
                (x, y), (x_on, y_on) = segment[0], segment[-1]
                if abs(x_on - x) > 200:
                    found.append((y_on - y) / (x_on - x))
    return sorted(found)


def test_rays_have_the_slope_of_the_line_to_the_eye() -> None:
    """Equal scale both ways: the eye is 500 mm off and 70 up, so (70 − 20)/500 and (70 − 40)/500."""
    sheet = section_sheet(*slot(Eye("seated", 500.0, 70.0)), 90.0, (1600, 1200))
    assert slopes(sheet) == pytest.approx([30 / 500, 50 / 500], abs=1e-6)
    words = words_of(sheet)
    # From the point at 20 the line passes the rim at 25, nearer to the base's edge; the other at 43.
    assert words[0].startswith('Test Lamp: section to the eye "seated", bearing 90° (right')
    assert words[0].endswith("Of 2 light points it sees 2 bare")
    assert "light point 1, past base, outer edge on top" in words
    assert "light point 2, past lid, outer edge underneath" in words
    assert {"1", "2", "1:", "2:"} <= set(words)


def test_points_aside_of_the_cut_are_told() -> None:
    sheet = section_sheet(*slot(Eye("seated", 500.0, 70.0), aside=20.0), 90.0, (1600, 1200))
    assert any("1 ray drawn paler" in each and "up to 20 mm aside" in each for each in words_of(sheet))
    assert any(each.endswith("20 mm aside of the cut") for each in words_of(sheet))
    assert "one aside of the cut" in words_of(sheet)


def test_the_legend_has_only_what_is_drawn() -> None:
    words = words_of(section_sheet(*slot(Eye("seated", 500.0, 70.0)), 90.0, (1600, 1200)))
    assert {"bare ray", "light point it sees", "edge passed"} <= set(words)
    assert not {"glazed ray", "veiled ray", "one aside of the cut", "one hidden from it"} & set(words)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("eye", [EYES[0].name, EYES[3].name, EYES[5].name])
def test_every_number_by_a_ray_stands_in_the_key_and_words_are_apart(eye: str, size: tuple[int, int]) -> None:
    lamp = lamps.hexagons()
    sheet = section_sheet(*studied(lamp.placed, lamp.points, eyes=EYES, surface=TABLE), None, size, eye)
    check_words(sheet)
    words = words_of(sheet)
    by_rays = {each for each in words if re.fullmatch(r"\d", each)}
    assert by_rays == {each[:-1] for each in words if re.fullmatch(r"\d:", each)}


@pytest.mark.parametrize(
    "eye", [Eye("beside", 90.0, 40.0), Eye("just above", 20.0, 75.0), Eye("far below", 300.0, -900.0)]
)
def test_an_eye_next_to_the_lamp_ends_the_frame(eye: Eye) -> None:
    check_words(section_sheet(*slot(eye), 90.0, (1000, 800)))


def test_an_eye_that_sees_nothing_is_told_so() -> None:
    sheet = section_sheet(*slot(Eye("over", 100.0, 2000.0)), None, (1000, 800))
    check_words(sheet)
    assert any("it sees none" in each for each in words_of(sheet))
    assert slopes(sheet) == []


def test_an_unknown_eye_is_refused_by_name() -> None:
    with pytest.raises(StackviewError, match="the eyes are seated"):
        section_drawing(*slot(Eye("seated", 500.0, 70.0)), None, (800, 600), "nobody")
