"""Rows that nearly fit, by plain arithmetic."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.description.sheet_at_hand import SheetAtHand
from stackview.sheets.near_miss import NEAR, near_misses, row_lack
from tests.sheets.flat_lamps import face, fits_of, rectangles
from tests.shop.parts import WOOD


@given(st.floats(10, 200), st.floats(0.5, 8), st.floats(50, 900))
def test_the_lack_is_that_of_one_more_than_fits(size: float, gap: float, room: float) -> None:
    found = row_lack(size, gap, room, 1000)
    if found is None:
        return
    count, lack = found
    assert 0.0 < lack <= NEAR
    # so many take just as much as the room and the lack, and one less fits
    assert count * size + (count - 1) * gap == pytest.approx(room + lack)
    assert (count - 1) * size + max(count - 2, 0) * gap <= room + 1e-3


def board(depth: float, shape=None) -> SheetAtHand:
    return SheetAtHand("board", WOOD, Outline(shape or Rectangle(600.0, depth)), 8.0)


def test_two_rows_across_a_board_are_told_once_for_all_parts_of_that_width() -> None:
    # the trial's own figures: two of 90 with 4.175 between them on 200 less twice 8
    fits = fits_of(rectangles((150, 90), (70, 90), (60, 30)), face(584, 184), gap=4.175)
    (miss,) = near_misses(fits, (4, 4, 4), (1, 3, 6), [(board(200.0), 0.0)])
    assert (miss.parts, miss.count, miss.way) == ((1, 3), 2, "front to back")
    assert (miss.lacks, miss.needs, miss.room) == pytest.approx((0.175, 184.175, 184.0))


def test_nothing_is_told_of_what_there_are_too_few_of_or_of_crooked_sheets() -> None:
    fits = fits_of(rectangles((150, 90)), face(584, 184), gap=4.175)
    assert near_misses(fits, (1,), (1,), [(board(200.0), 0.0)]) == ()
    assert near_misses(fits, (4,), (1,), [(board(200.0, Circle(200.0)), 0.0)]) == ()
    assert near_misses(fits, (4,), (1,), [(board(204.0), 0.0)]) == ()
