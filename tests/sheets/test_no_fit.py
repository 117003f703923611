"""No-fit and inner-fit shapes by closed form, and by asking whether shapes moved there touch."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from stackview.curves.corners import circle
from stackview.sheets.facets import outer_facets
from stackview.sheets.no_fit import EXACT_FIT, Region, fitted, inner_fit, no_fit, shifted, united, without
from tests.sheets.flat_lamps import face, rectangle
from tests.sheets.test_convex import ELL


def test_two_rectangles_keep_the_gap_by_closed_form() -> None:
    one, other = fitted(rectangle(40.0, 20.0), 5.0), fitted(rectangle(10.0, 30.0), 5.0)
    left, low, right, high = no_fit(one, other).bounds
    # the other's origin is its lower left corner: from -(its side + gap) to the fixed one's side + gap
    assert (left, low, right, high) == pytest.approx((-15.0, -35.0, 45.0, 25.0), abs=1.01 * EXACT_FIT)


def test_two_discs_may_not_come_nearer_than_their_radii_and_the_gap() -> None:
    one, other = (fitted(outer_facets(circle(radius), 0.01), 4.0) for radius in (30.0, 12.0))
    away = shapely.distance(shapely.Point(0, 0), shapely.points(shapely.get_coordinates(no_fit(one, other))))
    assert away.min() >= 30 + 12 + 4 - EXACT_FIT
    assert away.max() <= 30 + 12 + 4 + 0.05


@given(st.floats(-60, 60), st.floats(-60, 60))
def test_a_place_is_forbidden_just_where_the_shapes_come_too_near(x: float, y: float) -> None:
    shape, gap = shapely.Polygon(ELL), 3.0
    forbidden = no_fit(fitted(ELL, gap), fitted(ELL, gap))
    away = shape.distance(shifted(shape, (x, y)))
    if not forbidden.contains(shapely.Point(x, y)):
        assert away >= gap - 2 * EXACT_FIT
    elif not forbidden.buffer(-0.05).is_empty and forbidden.buffer(-0.05).contains(shapely.Point(x, y)):
        # corners are grown nearly round: two of them stand off by a tenth of the gap more at most
        assert away < 1.1 * gap


def test_inside_a_rectangle_there_is_its_size_less_the_shape() -> None:
    found = inner_fit(face(100.0, 50.0), fitted(rectangle(40.0, 20.0), 3.0))
    assert found.bounds == pytest.approx((0.0, 0.0, 60.0, 30.0), abs=EXACT_FIT)
    assert found.area == pytest.approx(1800.0, abs=0.2)


def test_what_fits_exactly_has_one_place_and_what_does_not_has_none() -> None:
    assert inner_fit(face(40.0, 20.0), fitted(rectangle(40.0, 20.0), 3.0)).area > 0.0
    assert inner_fit(face(39.9, 20.0), fitted(rectangle(40.0, 20.0), 3.0)).is_empty
    # round in round: a disc of 20 in one of 21 has a disc of 1 to stand in
    room = Region(shapely.Polygon(outer_facets(circle(21.0), 0.001)))
    small = fitted(outer_facets(circle(20.0), 0.001), 3.0)
    assert inner_fit(room, small).area == pytest.approx(np.pi, rel=0.02)
    assert inner_fit(room, fitted(outer_facets(circle(21.1), 0.001), 3.0)).is_empty
    # wider than the disc though no side of its box is
    assert inner_fit(room, fitted(rectangle(40.0, 30.0), 3.0)).is_empty


def test_no_place_on_a_zone_is_left() -> None:
    zone = shapely.box(30.0, 10.0, 50.0, 30.0)
    found = inner_fit(face(100.0, 40.0, zone), fitted(rectangle(10.0, 10.0), 3.0))
    # 90 × 30 of places, less those at which the square would touch 20 × 20: 30 × 30
    assert found.area == pytest.approx(2700.0 - 900.0, abs=0.5)
    assert face(100.0, 40.0, zone).area == 3600.0
    assert face(100.0, 40.0, zone).bounds == (0.0, 0.0, 100.0, 40.0)


def test_specks_of_rounding_are_nothing() -> None:
    box = shapely.box(0, 0, 10, 10)
    assert without(box, [shapely.box(0, 0, 10, 10 - 1e-13)]).is_empty
    assert without(box, [shapely.box(0, 0, 10, 10 - EXACT_FIT)]).area == pytest.approx(10 * EXACT_FIT)
    assert united([box, shifted(box, (5.0, 0.0))]).area == 150.0
