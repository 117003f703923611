"""Width and margin of areas whose answers are known."""

from math import inf

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from stackview.stack.footing import hull_margin, width_of


def test_no_area_has_no_width_and_holds_nothing() -> None:
    assert width_of(shapely.Polygon(), 5.0) == 0.0
    assert hull_margin(shapely.Polygon(), (0.0, 0.0)) == -inf


def test_two_areas_carry_between_them() -> None:
    two = shapely.union_all([shapely.box(-20, -3, -14, 3), shapely.box(14, -3, 20, 3)])
    assert width_of(two, 20.0) == pytest.approx(6.0, abs=1e-3)
    assert hull_margin(two, (0.0, 1.0)) == pytest.approx(2.0)


@given(st.floats(0.01, 30.0), st.floats(0.5, 40.0))
def test_width_of_a_rectangle_is_its_shorter_side(width: float, length: float) -> None:
    got = width_of(shapely.box(0.0, 0.0, width, length), 100.0)
    assert got == pytest.approx(min(width, length), abs=3e-4, rel=1e-4)


@given(st.floats(-50.0, 50.0), st.floats(-50.0, 50.0))
def test_margin_in_a_square(x: float, y: float) -> None:
    got = hull_margin(shapely.box(-20.0, -20.0, 20.0, 20.0), (x, y))
    inside = 20.0 - max(abs(x), abs(y))
    if inside >= 0.0:
        assert got == pytest.approx(inside, abs=1e-9)
    else:
        assert got == pytest.approx(-((max(abs(x) - 20.0, 0.0) ** 2 + max(abs(y) - 20.0, 0.0) ** 2) ** 0.5))
