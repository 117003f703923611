import numpy as np
import pytest
from matplotlib import colormaps

from stackview.photographs.luminance_map import (
    COLOURS,
    UNDER_SCALE,
    Span,
    amount,
    false_coloured,
    luminance_map,
    span_of,
)


def grey() -> list[int]:
    return [int(UNDER_SCALE[at : at + 2], 16) for at in (1, 3, 5)]


def test_colours_are_the_scales_by_the_logarithm() -> None:
    found = false_coloured(np.array([[1.0, 10.0, 1e4, 1e6, 0.99]]), Span(0, 4))
    table = np.rint(np.array([colormaps[COLOURS](k)[:3] for k in (0, 64, 255, 255)]) * 255)
    assert (found[0, :4] == table).all()
    assert found[0, 4].tolist() == grey()


def test_brighter_is_lighter() -> None:
    found = false_coloured(np.logspace(-1, 4, 200)[None], Span(-1, 4))[0]
    assert (np.diff(found @ np.array([0.2126, 0.7152, 0.0722])) > -1.0).all()


def test_the_span_holds_the_picture_within_bounds() -> None:
    assert span_of(np.array([[100.0, 1000.0]])) == Span(1, 3)
    assert span_of(np.array([[5.0, 6.0]])) == Span(-1, 1)
    assert span_of(np.array([[1e-9] * 5 + [4e5]])) == Span(-3, 6)
    assert span_of(np.zeros((3, 3))) == Span(0, 2)


@pytest.mark.parametrize("size", [(640, 480), (960, 720), (300, 200), (400, 900)])
def test_the_picture_stands_in_the_chart_pixel_for_pixel(size: tuple[int, int]) -> None:
    width, height = size
    luminance = np.random.default_rng(1).uniform(1.0, 9000.0, (height, width))
    chart = luminance_map(luminance, "Honeycomb", "From bearing 35°, elevation +12°, 0.7 m away")
    want = false_coloured(luminance, span_of(luminance))[3:-3, 3:-3]
    first = np.flatnonzero((chart[:, :, :] == want[0, 0]).all(axis=2))
    places = [divmod(int(spot), chart.shape[1]) for spot in first]
    tall, wide = want.shape[:2]
    assert any(
        chart[row : row + tall, column : column + wide].shape == want.shape
        and (chart[row : row + tall, column : column + wide] == want).all()
        for row, column in places
    )


def test_the_sheet_is_white_round_about_and_says_something() -> None:
    chart = luminance_map(np.full((480, 640), 50.0), "Lamp", "From the front")
    assert (chart[-3:] == 255).all()
    assert (chart[:, -3:] == 255).all()
    assert (chart[:40, :300].min(axis=2) < 90).sum() > 100


def test_amounts_have_two_figures() -> None:
    assert [amount(value) for value in (0.0, 0.1, 1.0, 25.4, 1e6)] == [
        "0",
        "0.1",
        "1",
        "25",
        "1\u2009000\u2009000",
    ]
