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
    # 8 mm of margin on either side are no help against 76
    helps = "short by" not in says
    assert str(told.value).endswith(f"List a larger sheet{', or give less margin' if helps else ''}")


def test_less_margin_is_said_where_it_is_enough() -> None:
    # its parts are 160 × 120 mm: 160 and twice 8 of margin
    with pytest.raises(
        StackviewError, match="short by 6 mm along the grain. List a larger sheet, or give less margin$"
    ):
        sheet_plan(moth(BOARD.replace("size = [600, 180]", "size = [170, 180]")))
