"""The page from below: mirrored, its own cuts drawn through, and all labels with room."""

import numpy as np

from stackview.drawings.paper import HIDDEN_EDGE
from stackview.drawings.part_page import draw_part_page
from stackview.drawings.underside_page import draw_underside_page
from stackview.shop.part_sheet import part_sheets
from stackview.study import Study
from tests.drawings.sheets import check_page, full_sheet, note_of


def test_what_is_cut_from_below_stands_on_the_other_side_of_the_axis() -> None:
    page = draw_underside_page(full_sheet(), note_of(), paper="a4")
    check_page(page)
    said = [words for words, _ in page.boxes]
    assert "seen from below, front below: it lies with its underside up" in said
    # the pocket in the underside is number 5; the recess and the groove in the top have no number here
    assert {"1", "2", "3", "5"} <= set(said)
    assert not {"4", "6"} & set(said)
    assert "A" not in said
    # the hole at x = −60 is at x = +60 from below, 120 to the left of it the axis is not
    widths = {}
    for pen, _, points, _ in page.strokes:
        if pen != HIDDEN_EDGE and len(points) > 4:
            widths[round(float(np.ptp(points[:, 0])), 3)] = 0.5 * float(
                points[:, 0].min() + points[:, 0].max()
            )
    outline, hole, pocket = (widths[size] for size in (150.0, 8.0, 4.0))
    assert round(hole - outline, 3) == 60.0
    assert round(pocket - outline, 3) == -62.0


def test_only_parts_that_are_cut_from_below_have_one() -> None:
    by_name = {}
    sheets = part_sheets(Study.read("demos/honeycomb.toml"))
    for sheet in (sheet for sheet in sheets if sheet.layer.name in ("ring 3", "cap")):
        pages, _ = draw_part_page(sheet, note_of(), paper="letter", cutter=6.35, chord_error=0.05)
        by_name[sheet.layer.name] = len(pages)
        for page in pages:
            check_page(page)
    assert by_name == {"ring 3": 2, "cap": 1}
