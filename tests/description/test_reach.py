import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Curve, Rectangle, Regular

HALF_ROUND = Curve(((-5.0, 0.0, 0.0), (5.0, 0.0, 1.0)), "test")
SQUARE = Curve(((-1.0, -1.0, 0.0), (1.0, -1.0, 0.0), (1.0, 1.0, 0.0), (-1.0, 1.0, 0.0)), "test")


def test_circle() -> None:
    assert Outline(Circle(10), grow=-2).inner_reach == Outline(Circle(10), grow=-2).outer_reach == 3


def test_rectangle() -> None:
    assert Outline(Rectangle(6, 8)).inner_reach == 3
    assert Outline(Rectangle(6, 8)).outer_reach == 5
    # rounded by as much as it takes: a slot, 8 long
    assert Outline(Rectangle(6, 8, 3)).outer_reach == 4


@given(st.integers(3, 12), st.floats(1, 100))
def test_polygon(sides: int, flats: float) -> None:
    outline = Outline(Regular(sides, flats))
    assert outline.inner_reach == flats / 2
    assert outline.outer_reach == pytest.approx(flats / 2 / math.cos(math.pi / sides))
    # rounded as far as it takes, it is its inscribed circle
    assert Outline(Regular(sides, flats, flats / 2)).outer_reach == pytest.approx(flats / 2)


def test_curve() -> None:
    assert Outline(HALF_ROUND).outer_reach == 5
    assert Outline(HALF_ROUND).inner_reach == 0
    assert (Outline(SQUARE).inner_reach, Outline(SQUARE).outer_reach) == (1, pytest.approx(math.sqrt(2)))


def test_a_curve_beside_its_centre_holds_no_circle_about_it() -> None:
    away = Curve(tuple((x + 10, y, bulge) for x, y, bulge in SQUARE.vertices), "test")
    assert Outline(away).inner_reach == 0


def test_how_narrow_a_curve_is_is_not_known_from_its_centre() -> None:
    assert Outline(Rectangle(6, 8), grow=-1).narrowest == 4
    assert Outline(SQUARE, grow=-3).narrowest == math.inf
