"""Where cuts stand, in words."""

import pytest

from stackview.curves.arcs import moved
from stackview.curves.corners import circle
from stackview.description.lamp import Opening
from stackview.description.outline import Around, Outline, around, path_of
from stackview.description.shapes import Circle, Curve, Regular
from stackview.description.units import Units
from stackview.shop.cut_places import cut_place, middle_of
from stackview.shop.drawn_cuts import DrawnCut

HOLE = Opening(Outline(Circle(5.0)))


def test_about_the_axis_nothing_is_said() -> None:
    assert cut_place(DrawnCut(HOLE, (circle(5.0),)), Units("mm")) == ""


def test_one_hole_by_its_middle_and_a_ring_of_them_by_its_circle() -> None:
    path = moved(circle(5.0), 10.0, -6.0)
    assert middle_of(path) == (10.0, -6.0)
    assert cut_place(DrawnCut(HOLE, (path,)), Units("mm")) == (
        ", middle 10 mm right of and 6 mm in front of the axis"
    )
    ring = around(circle(5.0), Around(4, 100.0, 45.0))
    assert (
        cut_place(DrawnCut(HOLE, tuple(ring)), Units("mm"))
        == ", on ⌀ 100 mm at bearings 45°, 135°, 225°, 315°"
    )


def test_holes_here_and_there_each_by_its_middle() -> None:
    cut = DrawnCut(HOLE, (moved(circle(5.0), 10.0, 0.0), moved(circle(5.0), 0.0, 30.0)))
    assert cut_place(cut, Units("mm")) == ", middles 10 mm right of the axis; 30 mm behind the axis"


def test_a_pentagon_about_the_axis_stands_in_no_other_place() -> None:
    # the box about a pentagon is not about its centre
    path = path_of(Outline(Regular(5, 100.0)))
    cut = DrawnCut(Opening(Outline(Regular(5, 100.0))), (path,))
    assert middle_of(path) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert cut_place(cut, Units("mm")) == ""


def test_a_drawn_curve_lies_where_it_is_drawn() -> None:
    drawn = Curve(((50.0, 0.0, 0.3), (0.0, 40.0, 0.2), (-30.0, 0.0, 0.3), (0.0, -40.0, 0.2)), "leaf.svg")
    cut = DrawnCut(Opening(Outline(drawn)), (path_of(Outline(drawn)),))
    assert cut_place(cut, Units("mm")) == ""
