"""Sheets at hand as they are read, and what is wrong with them, each told with its place."""

from collections.abc import Callable

import pytest

from stackview.description.lamp import Lamp
from stackview.description.price import Price
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]
SHEET = '[[sheet]]\nmaterial = "ply"\nsize = [600, 400]\n'


def test_a_sheet_of_three_lines_has_its_defaults(base: str, read: Read) -> None:
    (sheet,) = read(base + SHEET).sheets
    assert (sheet.name, sheet.count, sheet.grain, sheet.margin, sheet.thickness) == (
        "sheet 1",
        1,
        90.0,
        8.0,
        9.0,
    )
    assert (sheet.size, sheet.zones, sheet.price) == ((600.0, 400.0), (), None)


def test_everything_that_can_be_said_of_one(base: str, read: Read) -> None:
    more = (
        'name = "long"\nthickness = 8.8\ngrain = 0\nmargin = "1/2 in"\ncount = 3\nprice = "48 per piece"\n'
        '[[sheet.zone]]\nname = "knot"\noutline = { circle = 30 }\nat = [100, 50]\n'
    )
    (sheet,) = read(base + SHEET + more).sheets
    assert (sheet.name, sheet.thickness, sheet.grain, sheet.margin) == ("long", 8.8, 0.0, 12.7)
    assert (sheet.count, sheet.price) == (3, Price(48.0, "piece"))
    (zone,) = sheet.zones
    assert (zone.name, zone.outline.at) == ("knot", (100.0, 50.0))


def test_an_offcut_by_its_outline(base: str, read: Read) -> None:
    crooked = SHEET.replace("size = [600, 400]", "outline = { circle = 300, at = [70, 0] }")
    (sheet,) = read(base + crooked).sheets
    # its own frame begins at the lower left corner of the rectangle about it
    assert sheet.size == pytest.approx((300.0, 300.0))


@pytest.mark.parametrize(
    ("change", "where", "says"),
    [
        (("size = [600, 400]", ""), "sheet 1", "neither size nor outline is given"),
        (("size", "outline = { circle = 90 }\nsize"), "sheet 1", "size and outline are both given"),
        (('"ply"', '"oak"'), "sheet 1 · material", 'no material "oak"'),
        (("size", "margin = 200\nsize"), "sheet 1 · margin", "leaves nothing of a sheet 600 mm × 400 mm: at most 199.99 mm"),
        (("size", "count = 0\nsize"), "sheet 1 · count", "1 to 1000"),
        (("size", "colour = 1\nsize"), "sheet 1", "colour"),
        (("size", 'price = "9 per m2"\nsize'), "sheet 1 · price", "does not go here"),
        (
            ("size", "zone = [{ outline = { circle = 20 }, at = [650, 10] }]\nsize"),
            "sheet 1 · zone 1 · at",
            "x 650 mm, y 10 mm and it does not lie on the sheet, 600 mm × 400 mm",
        ),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told(base: str, fault: One, change: tuple[str, str], where: str, says: str) -> None:
    told = fault(base + SHEET.replace(*change))
    assert told.where == where
    assert says in told.what


def test_a_name_twice_and_a_material_without_thickness(base: str, fault: One) -> None:
    twice = SHEET.replace("material", 'name = "a"\nmaterial') * 2
    assert "another sheet is called" in fault(base + twice).what
    bare = base + '[materials.oak]\nwood = "white oak"\n' + SHEET.replace('"ply"', '"oak"')
    assert "say how thick the sheet is" in fault(bare).what
