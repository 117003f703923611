"""The whole question, and the property that no layout breaks a promise."""

import numpy as np
import pytest
import shapely
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from stackview.curves.arcs import area, bounds, polygon
from stackview.errors import StackviewError
from stackview.sheets.plan import MOST_PIECES, cutting_gap, sheet_plan
from stackview.sheets.proof import least_gap
from tests.sheets.flat_lamps import BOARD, KNOT, moth


def test_parts_of_two_lamps_on_what_is_at_hand() -> None:
    told = []
    plan = sheet_plan(moth(KNOT, BOARD), 2, first=told.append)
    assert len(told) == 1
    (oak,) = plan.stocks
    # sheets in the order of the file; all pieces, none twice
    assert oak.sheets[0].sheet.name == "offcut"
    count = {part.title: 0 for part in oak.parts}
    for sheet in oak.sheets:
        for one in sheet.parts:
            count[one.part.title] += 1
    assert count == {"base": 2, "ring": 2, "puck": 2, "top": 2}
    # the pucks lie in the waste of the rings
    inside = {one.part.title for sheet in oak.sheets for one in sheet.parts if one.inside is not None}
    assert inside == {"puck"}
    # 7 mm between parts: the cutter's 6 and one more; shares by areas in closed form
    assert (plan.gap, cutting_gap(moth().lamp)) == (7.0, 7.0)
    for sheet in oak.sheets:
        net = sum(one.part.net_area for one in sheet.parts)
        assert sheet.share == pytest.approx(net / (sheet.sheet.size[0] * sheet.sheet.size[1]), rel=1e-9)
    # the plate has no sheet, and is told what would do
    (plate,) = plan.without
    assert (plate.material, [part.title for part in plate.parts]) == ("clear", ["plate"])
    assert plate.sizes
    assert plan.is_whole


def test_what_is_not_at_hand_is_bought_without_the_knot() -> None:
    plan = sheet_plan(moth(KNOT), 3)
    (oak,) = plan.stocks
    assert oak.bought
    assert all(sheet.sheet.zones == () for sheet in oak.bought)
    assert [sheet.copy for sheet in oak.sheets] == list(range(1, len(oak.sheets) + 1))
    assert oak.lamps_at_hand == 0
    assert oak.sheets[0].sheet.zones
    assert oak.sheets[1].words == "offcut, no. 2 (to buy)"


@pytest.mark.slow
def test_the_same_question_has_the_same_answer() -> None:
    first, second = (sheet_plan(moth(KNOT, BOARD), 2) for _ in range(2))
    places = [
        [[(one.x, one.y, one.turn) for one in sheet.parts] for sheet in plan.sheets]
        for plan in (first, second)
    ]
    assert places[0] == places[1]


@pytest.mark.parametrize(
    ("sheets", "lamps", "says"),
    [
        (BOARD, 0, "0 lamps: give a whole number from 1 to 10000"),
        (BOARD, True, "True lamps"),
        (
            BOARD,
            200,
            "^.+: 200 lamps have 800 pieces of white oak, .*; 400 are laid out at a time: ask for 100",
        ),
        (
            BOARD.replace("600, 180", "150, 180"),
            1,
            '^.+: parts of .*base: "board" .150 mm × 180 mm, margin 8 mm. is short by 26 mm',
        ),
    ],
)
def test_what_cannot_be_asked(sheets: str, lamps: int, says: str) -> None:
    with pytest.raises(StackviewError, match=says):
        sheet_plan(moth(sheets), lamps)
    assert MOST_PIECES == 400


SHEETS = st.builds(
    "[[sheet]]\nname = 'one'\nmaterial = 'oak'\nsize = [{}, {}]\ngrain = {}\nmargin = {}\ncount = {}\n"
    "zone = [{{ outline = {{ circle = {} }}, at = [{}, {}] }}]\n".format,
    st.integers(260, 700),
    st.integers(260, 500),
    st.sampled_from([0, 90, 30, 135]),
    st.sampled_from([0, 5, 12.5]),
    st.integers(1, 2),
    st.integers(5, 60),
    st.integers(0, 250),
    st.integers(0, 250),
)


def refused(sheet: str, lamps: int) -> str:
    with pytest.raises(StackviewError) as told:
        sheet_plan(moth(sheet), lamps, longest=0.2)
    return str(told.value)


@settings(max_examples=3, phases=[Phase.explicit, Phase.generate])
@given(SHEETS, st.integers(1, 2))
def test_no_layout_overlaps_leaves_the_sheet_enters_a_zone_or_breaks_the_grain(
    sheet: str, lamps: int
) -> None:
    check_promises(sheet, lamps)


@pytest.mark.slow
@settings(max_examples=60)
@given(SHEETS, st.integers(1, 2))
def test_no_layout_breaks_a_promise_on_many_sheets(sheet: str, lamps: int) -> None:
    check_promises(sheet, lamps)


def check_promises(sheet: str, lamps: int) -> None:
    """Asked anew with shapely, on curves of its own, whatever the plan's own check has said."""
    try:
        plan = sheet_plan(moth(sheet), lamps, longest=0.2)
    except StackviewError:
        assert "no sheet of it holds" in refused(sheet, lamps)
        return
    pieces = 0
    for filled in plan.sheets:
        board = shapely.Polygon(polygon(filled.sheet.path, 1e-3))
        zones = [shapely.Polygon(polygon(zone.path, 1e-3)) for zone in filled.sheet.zones]
        for one in filled.parts:
            pieces += 1
            shape = shapely.Polygon(polygon(one.outline, 1e-3))
            assert board.buffer(0.005).contains(shape)
            assert board.exterior.distance(shape) >= filled.sheet.margin - 0.005
            assert all(zone.distance(shape) >= plan.gap - 0.005 for zone in zones)
            # the grain's own line, turned with the part, lies along the sheet's
            along = np.radians(one.part.grain + one.turn - filled.sheet.grain)
            assert abs(np.sin(along)) < 1e-9
            assert area(one.outline) == pytest.approx(area(one.part.outline), rel=1e-9)
            assert bounds(one.outline)[0] >= filled.sheet.margin - 0.005
        assert least_gap(filled.parts) >= plan.gap - 0.005
    assert pieces == 4 * lamps
