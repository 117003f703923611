"""Every shape answers for itself, and its answers agree with its own exact curve."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.curves.arcs import farthest, pieces_of
from stackview.curves.fit import reach_outside
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle, Curve, Rectangle, Regular, Shape

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
        (Circle(40.0), "⌀ 38"),
        (Rectangle(50.0, 30.0), "48 × 28"),
        (Regular(6, 40.0), "hexagon, 38 across flats"),
        (Regular(7, 40.0), "7 sides, 38 across flats"),
        (Curve(((-30.0, 0.0, 0.0), (30.0, 0.0, 1.0)), "test"), ""),
    ],
)
def test_sizes_in_words_are_those_when_grown(shape: Shape, words: str) -> None:
    # the half disc of radius 30, inset by 1: radius 29 about the same centre, and the flat 1 up
    if isinstance(shape, Curve):
        words = f"{round(2 * (29.0**2 - 1.0) ** 0.5, 1):g} × 28 over all"
    assert shape.size(-1.0, "{:g}".format) == words


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
