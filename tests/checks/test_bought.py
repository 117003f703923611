"""Sheets that are sold, that are not, and parts that do not go on them."""

import pytest

from stackview.checks.bought import CHECK, bought, longest_and_widest
from stackview.description.lamp import Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Rectangle
from stackview.findings import Level
from tests.checks.subjects import ASH
from tests.checks.written import alarms, changed, subject

OPAL = 'opal = { acrylic = "opal", sold = 4, measured = 3.8 }'


def test_a_sound_lamp_has_nothing_to_say() -> None:
    assert bought(subject()) == ()


@pytest.mark.parametrize(
    ("sold", "level"),
    [("sold = 4", None), ("sold = 7", Level.CAUTION), ("sold = 7, measured = 6.9", Level.NOTE)],
)
def test_a_thickness_that_is_not_sold(sold: str, level: Level | None) -> None:
    found = bought(changed((OPAL, f'opal = {{ acrylic = "opal", {sold} }}')))
    assert [one.level for one in found] == ([] if level is None else [level])
    assert all("the next are 6.35 mm" in one.what and "8 mm" in one.what for one in found)


def test_the_smallest_rectangle_of_a_turned_part() -> None:
    layer = Layer("a", ASH, 9.0, Outline(Rectangle(300.0, 100.0), turn=30.0))
    assert longest_and_widest(layer) == (pytest.approx(300.0), pytest.approx(100.0))


@pytest.mark.parametrize(
    ("long", "wide", "alarm"), [(3050, 1525, False), (3060, 100, True), (1600, 1530, True)]
)
def test_parts_on_the_largest_sheet(long: float, wide: float, alarm: bool) -> None:
    # birch plywood of 3050 × 1525 mm
    text = 'name = "x"\nmaterials.p = { plywood = "birch", sold = 9 }\n'
    text += f'layer = [{{ name = "a", material = "p", outline = {{ rectangle = [{long}, {wide}] }} }}]\n'
    assert bool(alarms(CHECK, subject(text))) is alarm
