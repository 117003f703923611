import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.wood_movement import equilibrium_moisture, strain_towards, wood_moved


@pytest.mark.parametrize(
    ("humidity", "percent", "chart"), [(0.30, 6.17, 6.2), (0.50, 9.24, 9.2), (0.65, 11.96, 12.0)]
)
def test_moisture_against_the_handbooks_chart(humidity: float, percent: float, chart: float) -> None:
    # Wood Handbook FPL-GTR-190, Eq. 4-5 and Table 4-2 at 21.1 °C
    found = equilibrium_moisture(21.1, humidity)
    assert found == pytest.approx(percent, abs=0.005)
    assert found == pytest.approx(chart, abs=0.06)


def test_the_handbooks_worked_board() -> None:
    # Wood Handbook FPL-GTR-190, Eq. 13-2: 232 mm, C_T 0.00245, 8 to 11 % → 1.7 mm
    assert wood_moved(232.0, 0.00245, 8.0, 11.0) == pytest.approx(1.7, abs=0.05)


def test_dry_air_dries_wood_out() -> None:
    assert equilibrium_moisture(21.0, 0.0) == 0.0


@given(st.floats(0.0, 40.0), st.floats(0.05, 0.90), st.floats(0.005, 0.05))
def test_damper_air_makes_wood_damper(celsius: float, humidity: float, more: float) -> None:
    assert equilibrium_moisture(celsius, humidity + more) > equilibrium_moisture(celsius, humidity)


@given(st.floats(1.0, 1000.0), st.floats(0.0, 0.01), st.floats(6.0, 14.0), st.floats(6.0, 14.0))
def test_there_and_back_is_nothing_and_twice_the_size_moves_twice(
    size: float, coefficient: float, one: float, other: float
) -> None:
    there = wood_moved(size, coefficient, one, other)
    assert wood_moved(size, coefficient, other, one) == pytest.approx(-there)
    assert wood_moved(2.0 * size, coefficient, one, other) == pytest.approx(2.0 * there)


@given(st.floats(-0.02, 0.02), st.floats(-0.02, 0.02), st.floats(0.0, 360.0), st.floats(0.0, 360.0))
def test_strain_is_the_quadratic_form_of_the_strain_tensor(
    across: float, along: float, grain: float, bearing: float
) -> None:
    g, b = np.radians(grain), np.radians(bearing)
    fibre, side = np.array([np.sin(g), -np.cos(g)]), np.array([np.cos(g), np.sin(g)])
    tensor = along * np.outer(fibre, fibre) + across * np.outer(side, side)
    towards = np.array([np.sin(b), -np.cos(b)])
    assert strain_towards(across, along, grain, bearing) == pytest.approx(
        towards @ tensor @ towards, abs=1e-15
    )
