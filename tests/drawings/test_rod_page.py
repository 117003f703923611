"""Pages of rods: every number on them, none over another, none cropped."""

from dataclasses import replace

import pytest

from stackview.drawings.rod_page import draw_rod_page
from stackview.errors import StackviewError
from stackview.shop.rod_sheet import rod_sheets
from stackview.study import Study
from tests.drawings.sheets import check_page, note_of


@pytest.mark.parametrize(("demo", "paper"), [("turning-lantern", "a4"), ("honeycomb", "letter")])
def test_pages_of_demos(demo: str, paper: str) -> None:
    study = Study.read(f"demos/{demo}.toml")
    for sheet in rod_sheets(study):
        (page,), _ = draw_rod_page(sheet, note_of(study.lamp.units.alone), paper=paper)
        check_page(page)
        said = " ".join(words for words, _ in page.boxes)
        assert study.lamp.units.plain(sheet.rod.long) in said
        if sheet.side is not None:
            # where the strip begins and ends is dimensioned
            assert f"{study.lamp.units.plain(sheet.side.round)} once round" in said
            assert study.lamp.units.plain(sheet.strips[0].ends[1]) in said


@pytest.mark.parametrize("long", [2.0, 15.0, 700.0, 2500.0])
def test_short_and_long_rods(long: float) -> None:
    pins, _ = rod_sheets(Study.read("demos/honeycomb.toml"))
    (page,), scale = draw_rod_page(replace(pins, rod=replace(pins.rod, long=long)), note_of(), paper="a4")
    check_page(page)
    assert scale * long < 230.0


def test_what_no_paper_holds_is_refused() -> None:
    pins, _ = rod_sheets(Study.read("demos/honeycomb.toml"))
    with pytest.raises(StackviewError, match="larger than a4 paper holds at 1:100"):
        draw_rod_page(replace(pins, rod=replace(pins.rod, long=30000.0)), note_of(), paper="a4")


def test_a_thin_cores_side_has_room_for_few_words() -> None:
    (core,) = rod_sheets(Study.read("demos/turning-lantern.toml"))
    (page,), _ = draw_rod_page(replace(core, rod=replace(core.rod, long=900.0)), note_of(), paper="a4")
    check_page(page)
    assert "front" in [words for words, _ in page.boxes]
