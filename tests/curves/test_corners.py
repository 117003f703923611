"""Circles and rounded polygons: areas, lengths and tangents by closed form."""

from math import pi, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.curves.arcs import area, bounds, pieces_of
from stackview.curves.corners import QUARTER, circle, rounded_polygon


def regular(sides: int, flat: float) -> np.ndarray:
    angle = 2.0 * pi * np.arange(sides) / sides
    return flat / np.cos(pi / sides) * np.column_stack((np.cos(angle), np.sin(angle)))


def test_a_quarter_turns_bulge() -> None:
    # DXF group code 42: the tangent of a quarter of the sweep.
    assert pytest.approx(tan(pi / 8)) == QUARTER == pytest.approx(2**0.5 - 1.0)


@given(st.floats(0.01, 5000.0))
def test_a_circle_is_exact(radius: float) -> None:
    path = circle(radius)
    assert area(path) == pytest.approx(pi * radius**2, rel=1e-12)
    assert bounds(path) == pytest.approx((-radius, -radius, radius, radius), rel=1e-12)


@given(st.integers(3, 24), st.floats(5.0, 500.0), st.floats(0.01, 0.99))
def test_rounding_takes_the_corners_off(sides: int, flat: float, share: float) -> None:
    # Each corner loses q²(tan(π/n) − π/n): a kite less its sector (plane geometry).
    radius = share * flat
    corners = regular(sides, flat)
    sharp = sides * flat**2 * tan(pi / sides)
    expected = sharp - sides * radius**2 * (tan(pi / sides) - pi / sides)
    assert area(rounded_polygon(corners, 0.0)) == pytest.approx(sharp, rel=1e-12)
    assert area(rounded_polygon(corners, radius)) == pytest.approx(expected, rel=1e-9)


def test_a_polygon_rounded_all_the_way_is_its_inscribed_circle() -> None:
    assert area(rounded_polygon(regular(6, 20.0), 20.0)) == pytest.approx(pi * 20.0**2, rel=1e-9)


@given(st.integers(3, 12), st.floats(0.05, 0.9))
def test_arcs_leave_the_sides_without_a_corner(sides: int, share: float) -> None:
    pieces = pieces_of(rounded_polygon(regular(sides, 30.0), share * 30.0))
    radii = pieces.radius[pieces.radius > 0]
    assert len(radii) == sides
    assert radii == pytest.approx(np.full(sides, share * 30.0), rel=1e-9)


def test_no_radius_leaves_the_corners_as_they_are() -> None:
    square = np.array([(1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0)])
    for radius in (0.0, -1.0):
        path = rounded_polygon(square, radius)
        assert np.array_equal(path.vertices[:, :2], square)
        assert (path.vertices[:, 2] == 0.0).all()


def test_a_corner_that_sticks_in_is_rounded_the_other_way() -> None:
    # An L: five corners out, one in. Rounding adds there what it takes elsewhere: net 4 of q²(1 − π/4).
    ell = np.array([(0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)], float)
    assert area(rounded_polygon(ell, 5.0)) == pytest.approx(6400.0 - 4 * 25.0 * (1 - pi / 4), rel=1e-12)
