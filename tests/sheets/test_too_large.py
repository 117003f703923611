"""What a part lacks on the best sheet."""

import pytest

from stackview.errors import StackviewError
from stackview.sheets.plan import sheet_plan
from stackview.sheets.too_large import lack
from tests.sheets.flat_lamps import BOARD, face, fits_of, moth, rectangles


def test_the_lack_is_that_of_the_best_turn() -> None:
    fits = fits_of(rectangles((120, 80), turns=(0.0, 90.0)), face(100, 85))
    # 120 − 100 lying, 120 − 85 standing
    assert lack(fits, 0, 0) == pytest.approx((20.0, 0.0), abs=1e-6)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ("size = [100, 70]", "short by 76 mm along the grain and 56 mm across it"),
        (
            "outline = { circle = 178 }",
            "is large enough, but not clear of its zones",
        ),
    ],
)
def test_every_part_that_fits_nowhere_is_told(change: str, says: str) -> None:
    sheet = BOARD.replace("size = [600, 180]", change)
    with pytest.raises(StackviewError) as told:
        sheet_plan(moth(sheet))
    assert says in str(told.value)
    assert "List a larger sheet, or give less margin" in str(told.value)
