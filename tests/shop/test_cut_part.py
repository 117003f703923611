from stackview.description.lamp import Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from stackview.shop.cut_part import CutPart, EqualCopy, names_in_short
from tests.lamps import WOOD


def test_names_in_short() -> None:
    assert names_in_short(("ring 1", "ring 2")) == "ring 1, 2"
    assert names_in_short(("ring 1", "ring 2", "ring 3")) == "ring 1 to 3"
    assert names_in_short(("ring 1", "ring 3", "ring 5", "ring 6", "ring 7")) == "ring 1, 3, 5 to 7"
    assert names_in_short(("base plate", "plate 2", "plate 4")) == "base plate, plate 2, 4"
    assert names_in_short(("ring", "ring 2", "plate", "ring 3")) == "ring, ring 2, plate, ring 3"
    assert names_in_short(()) == ""


def test_a_part_counts_its_pieces() -> None:
    layer = Layer("spacers 1", WOOD, 8.0, Outline(Circle(10.0)))
    part = CutPart(layer, (EqualCopy("spacers 1", 3, False, 0.0), EqualCopy("spacers 2", 4, True, 30.0)))
    assert part.count == 7
    assert part.name == "spacers 1"
    assert part.names == ("spacers 1", "spacers 2")
    assert part.title == "spacers 1, 2"
    assert part.turned_over == ("spacers 2",)
    assert part.material is WOOD
    assert "\n" not in repr(part)
