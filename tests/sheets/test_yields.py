"""How many lamps a sheet gives, by counting."""

from stackview.sheets.laying import LaidOut
from stackview.sheets.plan import sheet_plan
from stackview.sheets.yields import all_laid, lamps_at_hand, sheet_yields
from tests.sheets.flat_lamps import BOARD, face, fits_of, moth, rectangles


def pieces(lamps: int) -> tuple[int, ...]:
    return (0, 0) * lamps


def test_squares_on_a_board_are_counted() -> None:
    # 4 × 2 squares of 40 with gaps of 2 on 166 × 82: four lamps of two
    fits = fits_of(rectangles((40, 40)), face(166, 82))
    (board,) = moth(BOARD).lamp.sheets
    far = 1e12
    (found,) = sheet_yields(fits, pieces, [board], far)
    assert (found.lamps, found.at_least) == (4, False)
    assert lamps_at_hand(fits, pieces, (0,), 9, far) == 4
    assert lamps_at_hand(fits, pieces, (0, 0), 9, far) == 8
    assert lamps_at_hand(fits, pieces, (0,), 3, far) == 2
    # without time nothing is claimed
    assert sheet_yields(fits, pieces, [board], None)[0].at_least
    assert lamps_at_hand(fits, pieces, (0,), 9, None) is None
    assert all_laid(LaidOut((), ()))
    assert not all_laid(LaidOut((), (0,)))


def test_a_plan_says_what_one_sheet_gives() -> None:
    (oak,) = sheet_plan(moth(BOARD)).stocks
    (board,) = oak.yields
    assert board.lamps >= 1
    assert oak.lamps_at_hand == 1
