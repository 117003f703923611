import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.tilting import hanging_angle, nearest_edge, tip_angle


def test_sixty_over_eighty() -> None:
    assert tip_angle(60.0, 80.0) == pytest.approx(36.8699, abs=5e-5)


def test_nothing_to_stand_on_falls_at_once() -> None:
    assert tip_angle(0.0, 80.0) == 0.0
    assert tip_angle(-5.0, 80.0) < 0.0


@given(st.integers(3, 12), st.floats(10.0, 100.0))
def test_three_feet_reach_half_as_far_between_them(count: int, radius: float) -> None:
    # a regular polygon's sides lie R·cos(π/n) from its middle
    angle = 2.0 * np.pi * np.arange(count) / count
    corners = radius * np.column_stack((np.cos(angle), np.sin(angle)))
    distance, _ = nearest_edge(corners, (0.0, 0.0))
    assert distance == pytest.approx(radius * np.cos(np.pi / count))


def test_outside_the_base_is_negative_and_says_where() -> None:
    square = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    assert nearest_edge(square, (3.0, 0.0)) == (-2.0, 90.0)
    assert nearest_edge(square, (0.0, -0.5)) == (0.5, 0.0)


def test_hung_over_its_middle_it_hangs_straight() -> None:
    assert hanging_angle((0.0, 0.0), 50.0) == 0.0
    assert hanging_angle((50.0, 0.0), 50.0) == pytest.approx(45.0)
