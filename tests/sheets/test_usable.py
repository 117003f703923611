"""What of a sheet can be used, by areas in closed form."""

import numpy as np
import pytest
import shapely

from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.description.sheet_at_hand import SheetAtHand, SheetZone
from stackview.sheets.usable import along_grain, face_of, grain_turn, in_own_frame, usable_region, zones_of
from tests.shop.parts import WOOD

KNOT = SheetZone("knot", Outline(Circle(30.0), at=(100.0, 60.0)))


def sheet(grain: float = 90.0, shape=Rectangle(400.0, 150.0), margin: float = 8.0) -> SheetAtHand:
    return SheetAtHand("board", WOOD, Outline(shape), margin, grain, (KNOT,), own_thickness=18.0)


def test_margin_and_zones_are_taken_off() -> None:
    region = usable_region(sheet(), 4.0)
    assert region.face.bounds == (8.0, 8.0, 392.0, 142.0)
    # a gap round a disc of 30: a disc of 38, at most a hundredth of a millimetre more
    assert region.area == pytest.approx(384 * 134 - np.pi * 19.0**2, abs=1.5)
    assert zones_of(sheet())[0].contains(shapely.Point(100.0, 60.0).buffer(14.999))


def test_a_round_sheet_is_never_taken_for_more_than_it_is() -> None:
    round_ = sheet(shape=Circle(200.0))
    assert face_of(round_).area < np.pi * 1e4
    assert round_.size == pytest.approx((200.0, 200.0))
    assert usable_region(round_, 4.0).face.bounds[2] <= 192.0


@pytest.mark.parametrize("grain", [0.0, 30.0, 90.0, 135.0, 200.0])
def test_the_grain_lies_along_x_and_places_come_back(grain: float) -> None:
    board = sheet(grain)
    turn = grain_turn(board)
    assert -135.0 <= turn <= 45.0
    assert (grain + turn - 90.0) % 180.0 == 0.0
    there = along_grain(shapely.Point(37.0, 11.0), board)
    assert in_own_frame(board, there.x, there.y) == pytest.approx((37.0, 11.0), abs=1e-9)


def test_an_upright_board_is_filled_from_its_lower_end() -> None:
    there = along_grain(shapely.LineString(((0.0, 0.0), (0.0, 900.0))), sheet(0.0))
    assert [x for x, _ in there.coords] == [0.0, 900.0]
