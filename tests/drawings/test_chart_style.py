import numpy as np
import pytest

from stackview.drawings.chart_style import (
    blank,
    box_loop,
    broken_lines,
    fill_area,
    image,
    pixels,
    printable,
    shortened,
    text_width,
)


def test_paper_is_white_and_an_image_lands_on_its_pixels() -> None:
    sheet = blank((640, 480))
    colours = np.random.default_rng(1).integers(0, 255, (30, 40, 3)).astype(np.uint8)
    image(sheet, colours, 100, 50)
    drawn = pixels(sheet)
    assert np.array_equal(drawn[480 - 50 - 30 : 480 - 50, 100:140], colours)
    drawn[480 - 50 - 30 : 480 - 50, 100:140] = 255
    assert (drawn == 255).all()


def test_areas_fill_their_own_pixels() -> None:
    sheet = blank((640, 480))
    fill_area(sheet, [box_loop((10, 20, 60, 70))], "#336699")
    drawn = pixels(sheet)
    assert (drawn[480 - 70 : 480 - 20, 10:60] == (0x33, 0x66, 0x99)).all()
    assert (drawn != 255).any(axis=2).sum() == 2500


def test_drawing_twice_gives_the_same_picture() -> None:
    sheet = blank((640, 480))
    fill_area(sheet, [box_loop((10.3, 20.6, 60.1, 70.2))], "#336699", opacity=0.5)
    assert np.array_equal(pixels(sheet), pixels(sheet))


@pytest.mark.parametrize("words", ["a", "ring 3, outer edge on top", "x" * 300, "word " * 60, "  "])
def test_cut_words_fit(words: str) -> None:
    sheet = blank((640, 480))
    kept = shortened(sheet, words, 120.0)
    assert text_width(sheet, kept) <= 120.0
    assert kept == printable(words) or kept.endswith("…")


def test_folded_words_fit_and_lose_nothing_where_there_is_room() -> None:
    sheet = blank((640, 480))
    words = "Bare points show between the two edges named here, and from nowhere else."
    lines = broken_lines(sheet, words, 200.0, most=9)
    assert " ".join(lines) == words
    assert max(text_width(sheet, each) for each in lines) <= 200.0
    assert len(broken_lines(sheet, words, 200.0, most=2)) == 2


def test_signs_that_the_font_lacks_are_shown_as_such_and_lines_are_joined() -> None:
    assert printable("a\n月\t\u0007b $") == "a □ □b $"
