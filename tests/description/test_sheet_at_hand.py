from stackview.curves.arcs import bounds
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.description.sheet_at_hand import SheetAtHand, SheetZone
from tests.shop.parts import WOOD


def test_its_own_frame_begins_at_its_lower_left_corner() -> None:
    knot = SheetZone("knot", Outline(Circle(30.0), at=(100.0, 60.0)))
    sheet = SheetAtHand(
        "board", WOOD, Outline(Rectangle(400.0, 150.0), at=(7.0, 9.0)), 8.0, 90.0, (knot,), own_thickness=18.0
    )
    assert bounds(sheet.path) == (0.0, 0.0, 400.0, 150.0)
    assert sheet.size == (400.0, 150.0)
    assert bounds(knot.path) == (85.0, 45.0, 115.0, 75.0)
    assert sheet.thickness == 18.0
    assert repr(sheet).startswith("SheetAtHand(name='board'")
