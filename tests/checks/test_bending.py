import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.bending import edge_lift, helix_bend, lead_angle


def test_lead_angle_of_the_tables_helix() -> None:
    # r 13.5, pitch 12: 8.052259° (CRC Standard Mathematical Tables' helix)
    assert lead_angle(13.5, 12.0) == pytest.approx(8.052259, abs=5e-7)


@given(st.floats(1.0, 100.0), st.floats(0.1, 200.0))
def test_bend_against_the_curvature_of_three_near_points(radius: float, pitch: float) -> None:
    t = np.array([-1e-3, 0.0, 1e-3])
    a, b, c = np.column_stack((radius * np.cos(t), radius * np.sin(t), pitch * t / (2.0 * np.pi)))
    area = np.linalg.norm(np.cross(b - a, c - a)) / 2.0
    sides = np.linalg.norm(b - a) * np.linalg.norm(c - b) * np.linalg.norm(c - a)
    assert helix_bend(radius, lead_angle(radius, pitch)) == pytest.approx(sides / (4.0 * area), rel=1e-5)


def test_edges_lie_flat_on_a_ring_and_stand_off_a_straight_run_by_the_sagitta() -> None:
    assert edge_lift(16.0, 8.0, 0.0) == 0.0
    assert edge_lift(16.0, 8.0, 90.0) == pytest.approx(16.0 - (16.0**2 - 4.0**2) ** 0.5)


@given(st.floats(10.0, 100.0), st.floats(1.0, 10.0), st.floats(1.0, 89.0))
def test_a_thicker_core_lies_flatter(radius: float, width: float, lead: float) -> None:
    assert edge_lift(2.0 * radius, width, lead) < edge_lift(radius, width, lead)
