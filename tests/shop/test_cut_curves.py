import pytest

from stackview.description.lamp import Bore, Chamfer, Groove, Layer, Opening, Recess
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.shop.cut_curves import cut_curves, turned_over
from tests.lamps import WOOD

RING = Layer(
    "ring",
    WOOD,
    20.0,
    Outline(Rectangle(150.0, 90.0)),
    openings=(
        Opening(Outline(Rectangle(100.0, 40.0)), main=True),
        Opening(Outline(Circle(5.0)), Around(3, 80.0, 0.0)),
    ),
    recesses=(Recess("top", 2.0, Outline(Rectangle(110.0, 50.0)), 0.2),),
    grooves=(Groove("top", "recess", 1.0, 2.0, 1.5),),
    chamfers=(Chamfer("top outer", 2.0), Chamfer("underside opening", 1.0, 30.0)),
    bores=(Bore(6.0, 8.0, 180.0, 10.0),),
)


def test_every_cut_is_there_with_its_heights() -> None:
    cuts = cut_curves(RING)
    assert [cut.name for cut in cuts] == ["outline", "opening"] + ["opening"] * 3 + [
        "recess",
        "groove",
        "bore",
    ]
    outline, main, hole, *_, recess, groove, bore = cuts
    assert outline.bevels == ((0.0, 0.0), (2.0, 45.0))
    assert main.bevels == ((1.0, 30.0), (0.0, 0.0))
    assert hole.bevels == ((0.0, 0.0), (0.0, 0.0))
    assert (recess.low, recess.high, recess.entered) == (18.0, 20.0, "top")
    # in the floor of the recess
    assert (groove.low, groove.high, groove.beside) == (16.5, 18.0, (-1.0, -2.0))
    assert (bore.low, bore.high, bore.entered) == (5.0, 11.0, "side")


def test_turned_over_changes_faces_heights_and_edges() -> None:
    outline, main, *_, recess, groove, bore = turned_over(cut_curves(RING), 20.0)
    assert outline.bevels == ((2.0, 45.0), (0.0, 0.0))
    assert main.bevels == ((0.0, 0.0), (1.0, 30.0))
    assert (recess.low, recess.high, recess.entered) == (0.0, 2.0, "underside")
    assert (groove.low, groove.high, groove.entered) == (2.0, 3.5, "underside")
    assert (bore.low, bore.high) == (9.0, 15.0)


def test_numbers_of_a_circle_are_half_its_radius_and_its_length() -> None:
    # area over length of a circle is r/2
    numbers = cut_curves(Layer("disc", WOOD, 9.0, Outline(Circle(80.0))))[0].numbers
    assert numbers[-2] == pytest.approx(20.0, rel=1e-12)
    assert numbers[-1] == pytest.approx(251.32741228718345, rel=1e-12)
