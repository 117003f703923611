"""Sizes that would do: every one is laid out again and holds, and one step less across does not hold the part."""

import pytest

from stackview.description.units import Units
from stackview.sheets.search import search
from stackview.sheets.sizes import sizes_that_do
from tests.sheets.flat_lamps import face, fits_of, rectangles

PIECES = (0, 0, 0, 0, 1, 1)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_all_parts_find_room_on_every_size(unit: str) -> None:
    shapes = rectangles((120, 80), (50, 30))
    sizes = sizes_that_do(fits_of(shapes, gap=4.0), PIECES, 8.0, Units(unit))
    assert len(sizes) >= 2
    for size in sizes:
        fits = fits_of(shapes, face(size.along - 16.0, size.across - 16.0), gap=4.0)
        assert not search(fits, PIECES, (0,), ways=12).best.left_over
        assert size.share == pytest.approx((4 * 9600 + 2 * 1500) / (size.along * size.across))
        step = 25.4 / 8 if unit == "in" else 1.0
        assert all(abs(side / step - round(side / step)) < 1e-6 for side in (size.along, size.across))


def test_the_narrowest_is_one_row_in_closed_form() -> None:
    # four of 120 with gaps, two of 30 over each other after them: 4·124 + 50, and 80 across
    narrow = sizes_that_do(fits_of(rectangles((120, 80), (50, 30)), gap=4.0), PIECES, 8.0, Units("mm"))[0]
    assert (narrow.along, narrow.across) == (4 * 124 + 50 + 16, 96)
