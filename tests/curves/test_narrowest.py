"""The least width where an edge faces a given way: closed forms, and no less than the gap of the whole."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.curves.arcs import moved, pieces_of, turned
from stackview.curves.corners import circle, rounded_polygon
from stackview.curves.fit import distances, gap
from stackview.curves.narrowest import narrowest

SQUARE = rounded_polygon(np.array([[-50.0, -50.0], [50.0, -50.0], [50.0, 50.0], [-50.0, 50.0]]), 0.0)


@pytest.mark.parametrize(("bearing", "width"), [(90.0, 7.0), (270.0, 7.0), (0.0, 40.0), (180.0, 40.0)])
def test_a_hole_near_one_side_of_a_square(bearing: float, width: float) -> None:
    # Ø20 with its middle 33 right of the axis: 7 to the right side, 40 to front and back
    found = narrowest(SQUARE, moved(circle(10.0), 33.0, 0.0), bearing, 45.0)
    assert found is not None
    assert found.by == pytest.approx(width)


def test_a_square_never_faces_between_its_sides() -> None:
    assert narrowest(SQUARE, circle(10.0), 45.0, 10.0) is None
    assert narrowest(SQUARE, circle(10.0), 45.0, 45.0) is not None


@given(st.floats(0.0, 360.0), st.floats(5.0, 90.0), st.floats(-20.0, 20.0), st.floats(-20.0, 20.0))
def test_against_many_places_on_a_circle(bearing: float, within: float, x: float, y: float) -> None:
    hole = moved(circle(15.0), x, y)
    found = narrowest(circle(50.0), hole, bearing, within)
    assert found is not None
    assert found.by >= gap(circle(50.0), hole).by - 1e-9
    ways = np.radians(bearing + np.linspace(-within, within, 2001))
    rim = 50.0 * np.column_stack((np.sin(ways), -np.cos(ways)))
    both = np.concatenate((rim, -rim))
    assert found.by == pytest.approx(float(distances(both, pieces_of(hole)).min()), abs=5e-3)
    assert found.by <= float(distances(both, pieces_of(hole)).min()) + 1e-9


@given(st.floats(0.0, 360.0))
def test_turning_all_changes_nothing(by: float) -> None:
    hole = moved(circle(10.0), 33.0, 0.0)
    found = narrowest(turned(SQUARE, by), turned(hole, by), 90.0 + by, 45.0 - 1e-3)
    assert found is not None
    assert found.by == pytest.approx(7.0, abs=1e-6)
