"""One way to lay out: order, waste first, sheets one after another, and time."""

import time

import numpy as np
import pytest

from stackview.sheets.fits import FlatShape
from stackview.sheets.laying import LayingWay, OutOfTimeError, lay
from tests.sheets.flat_lamps import face, fits_of, rectangle, rectangles


def way(order: list[int], axes: tuple[int, int] = (0, 1), shapes: int = 1) -> LayingWay:
    return LayingWay(tuple(order), ((0,),) * shapes, axes)


def test_a_row_fills_a_board_to_the_last_gap() -> None:
    # 5·30 + 4·2 = 158: the sixth needs another board
    fits = fits_of(rectangles((30, 20)), face(158, 20))
    laid = lay(fits, way([0] * 6), (0, 0))
    assert [len(shapes) for _, shapes in laid.sheets] == [5, 1]
    assert [round(one.x) for one in laid.sheets[0][1]] == [0, 32, 64, 96, 128]
    assert lay(fits_of(rectangles((30, 20)), face(157.9, 20)), way([0] * 5), (0,)).left_over == (0,)


def test_columns_or_rows_come_first() -> None:
    fits = fits_of(rectangles((30, 20)), face(100, 100))
    left = [(round(one.x), round(one.y)) for one in lay(fits, way([0] * 2), (0,)).sheets[0][1]]
    low = [(round(one.x), round(one.y)) for one in lay(fits, way([0] * 2, (1, 0)), (0,)).sheets[0][1]]
    assert (left, low) == ([(0, 0), (0, 22)], [(0, 0), (32, 0)])


def test_small_parts_lie_in_the_waste_of_a_ring() -> None:
    ring = FlatShape(rectangle(100, 100), (0.0,), (rectangle(60, 60) + 20.0,), 6400.0)
    fits = fits_of([ring, *rectangles((20, 20))], face(300, 100))
    laid = lay(fits, way([0, 1, 1, 1, 1, 1], shapes=2), (0,))
    # 56 mm of room: two and two; the fifth goes beside the ring
    assert [one.waste_of for one in laid.sheets[0][1]] == [None, 0, 0, 0, 0, None]
    inside = np.array([(one.x, one.y) for one in laid.sheets[0][1][1:5]])
    assert inside.min() == pytest.approx(22.0, abs=0.01)


def test_a_sheet_too_small_for_a_part_is_kept_for_smaller_ones() -> None:
    fits = fits_of(rectangles((30, 20), (5, 5)), face(10, 10), face(60, 60))
    laid = lay(fits, way([0, 1], shapes=2), (0, 1))
    assert [(region, [one.shape for one in shapes]) for region, shapes in laid.sheets] == [(0, [1]), (1, [0])]


def test_time_that_is_over_is_told() -> None:
    with pytest.raises(OutOfTimeError):
        lay(fits_of(rectangles((30, 20)), face(100, 100)), way([0]), (0,), time.monotonic() - 1.0)
