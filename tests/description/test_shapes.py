"""Every shape answers for itself, and its answers agree with its own exact curve."""

from math import cos, hypot, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.curves.arcs import area, bounds, farthest, pieces_of
from stackview.curves.fit import reach_outside
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle, Curve, Rectangle, Regular, Shape
from stackview.description.units import MILLIMETRES, Units
from stackview.errors import SolidError

SQUARE = Curve(((-1.0, -1.0, 0.0), (1.0, -1.0, 0.0), (1.0, 1.0, 0.0), (-1.0, 1.0, 0.0)), "test")
EVERY = (Circle(40.0), Rectangle(50.0, 30.0, 6.0), Regular(5, 40.0, 3.0), SQUARE)


def test_every_shape_is_asked() -> None:
    # a dataclass with slots is made anew, so that each stands among the subclasses twice
    assert {type(shape).__name__ for shape in EVERY} == {kind.__name__ for kind in Shape.__subclasses__()}


@pytest.mark.parametrize("shape", EVERY, ids=lambda shape: type(shape).__name__)
@given(share=st.floats(-0.5, 2.0))
def test_both_reaches_are_those_of_the_exact_curve(shape: Shape, share: float) -> None:
    grow = share * shape.inner if not isinstance(shape, Curve) else 0.0
    path = path_of(Outline(shape, grow=grow))
    assert shape.inner + grow == pytest.approx(-reach_outside(np.zeros((1, 2)), pieces_of(path))[0])
    assert shape.outer(grow) == pytest.approx(farthest(path))


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        (Circle(40.0), "⌀ 38 mm"),
        (Rectangle(50.0, 30.0), "48 mm × 28 mm"),
        (Regular(6, 40.0), "hexagon, 38 mm across flats"),
        (Regular(7, 40.0), "7 sides, 38 mm across flats"),
        (Curve(((-30.0, 0.0, 0.0), (30.0, 0.0, 1.0)), "test"), ""),
    ],
)
def test_sizes_in_words_are_those_when_grown(shape: Shape, words: str) -> None:
    # the half disc of radius 30, inset by 1: radius 29 about the same centre, and the flat 1 up
    if isinstance(shape, Curve):
        words = f"{round(2 * (29.0**2 - 1.0) ** 0.5, 1):g} mm × 28 mm over all"
    assert shape.size(-1.0, MILLIMETRES) == words


def test_corners_that_are_all_alike() -> None:
    assert Circle(40.0).corners() is None
    assert SQUARE.corners() is None
    square, pentagon = Rectangle(50.0, 30.0, 6.0).corners(), Regular(5, 40.0, 3.0).corners()
    assert (square.radius, square.angle) == (6.0, 90.0)
    # interior angle of a regular pentagon
    assert (pentagon.radius, pentagon.angle) == (3.0, 108.0)
    assert Rectangle(50.0, 30.0).with_corner_radius(4.0) == Rectangle(50.0, 30.0, 4.0)
    assert Regular(5, 40.0).with_corner_radius(4.0) == Regular(5, 40.0, 4.0)
    assert Circle(40.0).with_corner_radius(4.0) == Circle(40.0)


GROWN = st.floats(-5.0, 20.0)
SHAPES = st.one_of(
    st.floats(20.0, 400.0).map(Circle),
    st.tuples(st.floats(20.0, 400.0), st.floats(20.0, 400.0), st.floats(0.0, 4.0)).map(
        lambda each: Rectangle(*each)
    ),
    st.tuples(st.integers(3, 20), st.floats(20.0, 400.0), st.floats(0.0, 4.0)).map(
        lambda each: Regular(*each)
    ),
)


@given(SHAPES, GROWN)
def test_sharp_or_rounded_it_reaches_as_far_as_its_curve(shape: Shape, grow: float) -> None:
    path = shape.path(grow, 0.0, "outline")
    assert shape.outer(grow) == pytest.approx(farthest(path), rel=1e-9)
    within = -float(reach_outside(np.zeros((1, 2)), pieces_of(path))[0])
    assert shape.inner + grow == pytest.approx(within, rel=1e-9)


def test_reaches_in_closed_form() -> None:
    assert Rectangle(6.0, 8.0).outer(0.0) == 5.0
    # A corner rounded by q: its centre q inside both sides, and q beyond it.
    assert Rectangle(60.0, 80.0, 10.0).outer(0.0) == pytest.approx(hypot(20.0, 30.0) + 10.0)
    assert Regular(6, 100.0).outer(0.0) == pytest.approx(50.0 / cos(pi / 6))
    assert Circle(30.0).outer(2.0) == 17.0


def test_a_curves_size_is_its_extent(ell: Curve) -> None:
    assert ell.size(0.0, MILLIMETRES) == "100 mm × 100 mm over all"
    assert ell.size(-10.0, MILLIMETRES) == "80 mm × 80 mm over all"
    # 4 in square, drawn 0.02 mm short as drawings are: inches are made of what is sure, not of tenths of a mm.
    side = 4 * 25.4 - 0.02
    square = Curve(((0.0, 0.0, 0.0), (side, 0.0, 0.0), (side, side, 0.0), (0.0, side, 0.0)), "square.svg")
    assert square.size(0.0, Units("in")) == "4 in × 4 in over all"
    # The L's own zero is its corner: no circle about it lies inside.
    assert ell.inner == 0.0
    assert ell.outer(0.0) == pytest.approx(hypot(100.0, 40.0))


@pytest.mark.parametrize(
    ("shape", "grow", "cutter", "says"),
    [
        (Circle(30.0), -15.0, 0.0, "must stay under 15 mm"),
        (Circle(4.0), 0.0, 3.0, "use a cutter of radius 2.0000 mm at most"),
        (Rectangle(40.0, 20.0), -10.0, 0.0, "must stay under 10 mm"),
        (Rectangle(40.0, 20.0, 11.0), 0.0, 0.0, "10.0000 mm is the most"),
        (Rectangle(40.0, 4.0), 0.0, 3.0, "use one of radius 2.0000 mm at most"),
        (Regular(6, 30.0), -20.0, 0.0, "must stay under 15 mm"),
    ],
)
def test_what_cannot_be_made_says_how_much_can(shape: Shape, grow: float, cutter: float, says: str) -> None:
    with pytest.raises(SolidError) as caught:
        shape.path(grow, cutter, "recess")
    assert caught.value.field == "recess"
    assert says in caught.value.what


def test_curves_that_enclose_nothing_or_cross_themselves() -> None:
    bow = Curve(((0.0, 0.0, 0.0), (10.0, 10.0, 0.0), (10.0, 0.0, 0.0), (0.0, 10.0, 0.0)), "bow.dxf")
    with pytest.raises(SolidError, match="crosses itself near \\(5.00, 5.00\\)"):
        bow.path(0.0, 0.0, "outline")
    backwards = Curve(((0.0, 0.0, 0.0), (0.0, 10.0, 0.0), (10.0, 0.0, 0.0)), "back.dxf")
    with pytest.raises(SolidError, match="encloses nothing"):
        backwards.path(0.0, 0.0, "outline")


def test_a_drawn_circle_is_a_circle() -> None:
    # Two half turns: bulge tan(180°/4) = 1.
    drawn = Curve(((10.0, 0.0, 1.0), (-10.0, 0.0, 1.0)), "disc.dxf")
    assert area(drawn.path(0.0, 0.0, "outline")) == pytest.approx(pi * 100.0, rel=1e-12)
    assert bounds(drawn.path(2.0, 0.0, "outline")) == pytest.approx((-12.0, -12.0, 12.0, 12.0))
    assert (drawn.inner, drawn.outer(2.0)) == pytest.approx((10.0, 12.0))
