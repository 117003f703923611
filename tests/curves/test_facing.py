import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.curves.arcs import Path
from stackview.curves.corners import circle, rounded_polygon
from stackview.curves.facing import facing

SQUARE = np.array(((5.0, -5.0), (5.0, 5.0), (-5.0, 5.0), (-5.0, -5.0)))


@given(st.floats(-720.0, 720.0))
def test_a_circle_faces_every_way_with_its_radius(bearing: float) -> None:
    met = facing(circle(7.0), bearing)
    assert met is not None
    way = (math.sin(math.radians(bearing)), -math.cos(math.radians(bearing)))
    # Where two pieces meet, the point is their common end: geometry here holds to 1e-9 mm.
    assert met.at == pytest.approx((7.0 * way[0], 7.0 * way[1]), abs=1e-9)
    assert met.out == pytest.approx(way)
    assert met.radius == pytest.approx(7.0)


def test_a_flat_met_aside_of_its_middle() -> None:
    met = facing(Path(np.column_stack((SQUARE, np.zeros(4)))), math.degrees(math.atan2(1.0, 5.0)))
    assert met is not None
    # towards the front and a little to the right: 1 from the middle of a side 10 wide
    assert met.at == pytest.approx((1.0, -5.0))
    assert met.out == pytest.approx((0.0, -1.0))
    assert met.radius is None
    assert (met.before, met.after) == pytest.approx((6.0, 4.0))


def test_a_rounded_corner_is_met_on_its_arc() -> None:
    met = facing(rounded_polygon(SQUARE, 2.0), 45.0)
    assert met is not None
    # its centre is at (3, −3), so it is met 2 farther out along the diagonal
    assert math.hypot(*met.at) == pytest.approx(3.0 * math.sqrt(2.0) + 2.0)
    assert met.radius == pytest.approx(2.0)
    assert met.out == pytest.approx((math.sqrt(0.5), -math.sqrt(0.5)))


def test_a_hollow_side_has_a_negative_radius() -> None:
    # the front is an arc that turns clockwise, its bulge −tan(90°/4): radius 10/√2 about (0, −10)
    hollow = Path(np.column_stack((SQUARE, (0.0, 0.0, 0.0, -math.tan(math.pi / 8.0)))))
    met = facing(hollow, 0.0)
    assert met is not None
    assert met.radius == pytest.approx(-5.0 * math.sqrt(2.0))
    assert met.at == pytest.approx((0.0, -10.0 + 5.0 * math.sqrt(2.0)))
    assert met.out == pytest.approx((0.0, -1.0))


def test_nothing_is_met_beside_a_curve() -> None:
    away = Path(np.column_stack((SQUARE + np.array((20.0, 0.0)), np.zeros(4))))
    assert facing(away, 270.0) is None
    met = facing(away, 90.0)
    assert met is not None
    # the far side, where the line leaves it last
    assert met.at == pytest.approx((25.0, 0.0))
