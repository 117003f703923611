import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.outline import Circle, Curve, Outline, Rectangle, Regular
from stackview.description.reach import arc_centre, inner_reach, on_arc, outer_reach

HALF_ROUND = Curve(((-5.0, 0.0, 0.0), (5.0, 0.0, 1.0)), "test")
SQUARE = Curve(((-1.0, -1.0, 0.0), (1.0, -1.0, 0.0), (1.0, 1.0, 0.0), (-1.0, 1.0, 0.0)), "test")


def test_circle() -> None:
    assert inner_reach(Outline(Circle(10), grow=-2)) == outer_reach(Outline(Circle(10), grow=-2)) == 3


def test_rectangle() -> None:
    assert inner_reach(Outline(Rectangle(6, 8))) == 3
    assert outer_reach(Outline(Rectangle(6, 8))) == 5
    # rounded by as much as it takes: a slot, 8 long
    assert outer_reach(Outline(Rectangle(6, 8, 3))) == 4


@given(st.integers(3, 12), st.floats(1, 100))
def test_polygon(sides: int, flats: float) -> None:
    outline = Outline(Regular(sides, flats))
    assert inner_reach(outline) == flats / 2
    assert outer_reach(outline) == pytest.approx(flats / 2 / math.cos(math.pi / sides))
    # rounded as far as it takes, it is its inscribed circle
    assert outer_reach(Outline(Regular(sides, flats, flats / 2))) == pytest.approx(flats / 2)


def test_curve() -> None:
    assert outer_reach(Outline(HALF_ROUND)) == 5
    assert inner_reach(Outline(HALF_ROUND)) == 0
    assert (inner_reach(Outline(SQUARE)), outer_reach(Outline(SQUARE))) == (1, pytest.approx(math.sqrt(2)))


def test_a_curve_beside_its_centre_holds_no_circle_about_it() -> None:
    away = Curve(tuple((x + 10, y, bulge) for x, y, bulge in SQUARE.vertices), "test")
    assert inner_reach(Outline(away)) == 0


@given(st.floats(0.05, 1.5), st.floats(-math.pi, math.pi))
def test_arcs_keep_to_their_circle(bulge: float, bearing: float) -> None:
    start, end = 2 + 1j, 2 + 1j + 3 * complex(math.cos(bearing), math.sin(bearing))
    centre, radius = arc_centre(start, end, bulge)
    assert abs(start - centre) == pytest.approx(radius)
    assert abs(end - centre) == pytest.approx(radius)
    # a positive bulge lies to the right of its chord, by bulge · chord / 2
    middle = start + (end - start) / 2 - 1j * (end - start) * bulge / 2
    assert abs(middle - centre) == pytest.approx(radius)
    assert on_arc(middle, start, end, bulge, centre)
    assert not on_arc(2 * centre - middle, start, end, bulge, centre) or bulge > 1e9
