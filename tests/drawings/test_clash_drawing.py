"""The drawing of a plate that does not seat."""

import numpy as np
import pytest

from stackview.description.lamp import Lamp, Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Regular
from stackview.drawings.chart_style import pixels
from stackview.drawings.clash_drawing import clash_drawing, clash_sheet
from stackview.stack.assembly import Stack, assemble
from tests.drawings.drawn import check_words
from tests.stack.layers import ASH, circle, plate, pocket, square

VERMILION = (196, 80, 26)


def stack_with(clearance: float, sides: int = 4) -> Stack:
    outline = square(80) if sides == 4 else Outline(Regular(sides, 80.0))
    low = Layer("low", ASH, 10.0, circle(180), recesses=(pocket(outline, 2.0, clearance, 3.0, "plate"),))
    return assemble(Lamp("Test Lamp", "mm", (low, plate("plate", outline))))


def near(image: np.ndarray, colour: tuple[int, int, int]) -> np.ndarray:
    return np.abs(image.astype(int) - colour).max(axis=2) < 40


@pytest.mark.parametrize("size", [(640, 480), (1600, 1000), (900, 1200)])
@pytest.mark.parametrize("sides", [3, 4, 6])
def test_words_fit_and_sizes_are_exact(size: tuple[int, int], sides: int) -> None:
    sheet = clash_sheet(stack_with(0.1, sides), size)
    check_words(sheet)
    assert pixels(sheet).shape == (size[1], size[0], 3)


def test_the_clash_is_drawn_in_the_large_view_only() -> None:
    image = clash_drawing(stack_with(0.1))
    # Above the legend; the small view has only the thin ring about the place.
    large, small = (int(near(part[60:850], VERMILION).sum()) for part in (image[:, 800:], image[:, :800]))
    assert 0 < small < large / 3


def test_a_tighter_recess_draws_a_larger_clash() -> None:
    assert (
        near(clash_drawing(stack_with(0.1))[60:850, 800:], VERMILION).sum()
        > near(clash_drawing(stack_with(0.6))[60:850, 800:], VERMILION).sum()
    )


def test_nothing_to_draw_where_everything_fits() -> None:
    with pytest.raises(ValueError, match="no clash"):
        clash_drawing(stack_with(0.9))


def test_same_bytes_again() -> None:
    assert np.array_equal(clash_drawing(stack_with(0.1)), clash_drawing(stack_with(0.1)))
