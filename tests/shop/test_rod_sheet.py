"""Rods ready to be drawn."""

from pathlib import Path

import pytest

from stackview.curves.arcs import bounds
from stackview.shop.rod_sheet import rod_sheets
from stackview.study import Study
from tests.shop.box_lamp import box_study


def test_posts_core_and_feet_each_once(tmp_path: Path) -> None:
    pins, core, feet = rod_sheets(box_study(tmp_path))
    assert [sheet.rod.title for sheet in (pins, core, feet)] == ["pins", "core", "feet"]
    assert pins.strips == feet.strips == ()
    assert len(core.strips) == 1
    assert core.side is not None
    # feet 3 high below, base 19.4 with a recess of 2: the core stands on its floor
    assert core.ends == (("core", pytest.approx(3.0 + 17.4), pytest.approx(3.0 + 17.4 + 60.0)),)


def test_a_tube_has_its_inside() -> None:
    (core,) = rod_sheets(Study.read("demos/turning-lantern.toml"))
    assert core.inner is not None
    assert bounds(core.inner) == pytest.approx((-14.0, -14.0, 14.0, 14.0))
