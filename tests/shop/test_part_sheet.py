"""Index marks: on the edge, where the part has to face the lamp's front."""

from math import radians, sin, tan

import pytest

from stackview.curves.arcs import area, bounds
from stackview.description.lamp import Chamfer, Layer, Opening
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Curve, Rectangle
from stackview.description.units import MILLIMETRES
from stackview.drawings.part_page import mark_words
from stackview.shop.drawn_cuts import drawn_cuts
from stackview.shop.part_sheet import PartSheet, index_marks
from tests.shop.parts import WOOD, full_layer


def test_a_mark_lies_on_the_edge_at_its_bearing() -> None:
    cuts = drawn_cuts(Layer("ring", WOOD, 9.0, Outline(Rectangle(100.0, 80.0))))
    front, aside = index_marks(cuts, [("ring 1", 0.0), ("ring 2", 10.0), ("ring 3", 360.0)])
    assert front.names == ("ring 1", "ring 3")
    assert front.line.ravel().tolist() == pytest.approx([0.0, -40.0, 0.0, -36.0])
    # bearing 10° to the right leaves the front edge, 40 from the axis, at 40 tan 10°
    assert aside.line[0].tolist() == pytest.approx([40.0 * tan(radians(10.0)), -40.0])
    assert (front.letter, aside.letter) == ("a", "b")


def test_a_mark_on_a_round_part_with_a_hole_aside() -> None:
    layer = Layer(
        "lid", WOOD, 9.0, Outline(Circle(100.0)), openings=(Opening(Outline(Circle(5.0), at=(20.0, 0.0))),)
    )
    (mark,) = index_marks(drawn_cuts(layer), [("lid", -30.0)])
    assert mark.line[0, 0] == pytest.approx(50.0 * sin(radians(-30.0)))


def test_a_part_beside_the_axis_is_marked_only_where_it_lies_towards_the_front() -> None:
    """A strip 30 to 60 mm right of the axis, 20 mm deep: bearing 90° leaves it at 60 mm, bearing 0° never meets it."""
    corners = ((30.0, -10.0, 0.0), (60.0, -10.0, 0.0), (60.0, 10.0, 0.0), (30.0, 10.0, 0.0))
    layer = Layer("wing", WOOD, 9.0, Outline(Curve(corners, "wing.svg")))
    cuts = drawn_cuts(layer)
    (mark,) = index_marks(cuts, [("wing 1", 0.0), ("wing 2", 90.0)])
    assert (mark.letter, mark.names, mark.line[0].tolist()) == ("a", ("wing 2",), pytest.approx([60.0, 0.0]))
    sheet = PartSheet(layer, ("wing 1", "wing 2"), "wing", 2, (), cuts, (mark,), ("wing 1",))
    assert mark_words(sheet, MILLIMETRES)[1:] == [
        "no index mark on wing 1: nothing of it lies towards the front"
    ]


def test_a_part_that_is_the_same_however_it_is_turned_has_none() -> None:
    layer = Layer(
        "ring", WOOD, 9.0, Outline(Circle(100.0)), openings=(Opening(Outline(Circle(50.0)), main=True),)
    )
    assert index_marks(drawn_cuts(layer), [("ring", 5.0)]) == ()


def test_from_below_it_is_mirrored_and_only_its_own_cuts_are_left() -> None:
    layer = full_layer()
    sheet = PartSheet(layer, ("body",), "body", 1, (), drawn_cuts(layer), ())
    assert sheet.is_cut_from_below
    below = sheet.from_below
    # twice over it is itself
    for cut, again in zip(sheet.cuts, below.from_below.cuts, strict=True):
        for path, same in zip(cut.paths, again.paths, strict=True):
            assert area(path) == pytest.approx(area(same), rel=1e-12)
            assert bounds(path) == pytest.approx(bounds(same), abs=1e-12)
    assert bounds(below.cuts[2].paths[0]) == pytest.approx((56.0, 16.0, 64.0, 24.0))
    kinds = [type(cut.of).__name__ for cut in sheet.below_alone]
    assert kinds == ["Outline", "Opening", "Opening", "Recess", "Chamfer"]
    plain = Layer("lid", layer.material, 9.0, layer.outline, chamfers=(Chamfer("underside outer", 2.0),))
    assert not PartSheet(plain, ("lid",), "lid", 1, (), drawn_cuts(plain), ()).is_cut_from_below


def test_a_round_part_is_marked_for_its_grain_alone() -> None:
    cuts = drawn_cuts(Layer("ring", WOOD, 9.0, Outline(Circle(80.0))))
    assert index_marks(cuts, [("ring 1", 0.0), ("ring 2", -45.0)]) == ()
    marks = index_marks(cuts, [("ring 1", 0.0), ("ring 2", -45.0)], figured=True)
    assert [mark.names for mark in marks] == [("ring 1",), ("ring 2",)]
    # bearing −45° is to the left of the front
    assert marks[1].line[0].tolist() == pytest.approx(
        [-40.0 * sin(radians(45.0)), -40.0 * sin(radians(45.0))]
    )
