import pytest
from ht import Nu_vertical_plate_Churchill
from ht.conv_free_immersed import Nu_horizontal_plate_McAdams
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.convection import (
    air_at,
    grashof,
    level_film,
    level_nusselt,
    radiation_film,
    upright_film,
    upright_nusselt,
)


def test_incropera_example_9_2() -> None:
    # Incropera & DeWitt, 6th ed., Example 9.2, as the ht library has it
    assert upright_nusselt(0.69, 2.63e9) == pytest.approx(147.1618522, rel=1e-9)


@given(st.floats(0.5, 10.0), st.floats(1.0, 1e12))
def test_upright_plate_against_ht(prandtl: float, number: float) -> None:
    assert upright_nusselt(prandtl, number) == pytest.approx(Nu_vertical_plate_Churchill(prandtl, number))


@given(st.floats(0.6, 0.8), st.floats(2e5, 1.2e7))
def test_level_plate_against_ht(prandtl: float, number: float) -> None:
    up = Nu_horizontal_plate_McAdams(prandtl, number, buoyancy=True)
    assert level_nusselt(prandtl, number, gives_upwards=True) == pytest.approx(up, rel=1e-9)


def test_a_lamps_side() -> None:
    # L 0.15 m, 45 and 25 °C, ν 1.655e-5, Pr 0.706, k 0.0265 → Nu 26.40394, h 4.6647 W/m²K
    nusselt = upright_nusselt(0.706, grashof(0.15, 45.0, 25.0, 1.655e-5))
    assert nusselt == pytest.approx(26.40394, abs=5e-5)
    assert nusselt * 0.0265 / 0.15 == pytest.approx(4.6647, abs=5e-5)
    # with this file's own air, which differs by a per cent or two
    assert upright_film(0.15, 45.0, 25.0) == pytest.approx(4.6647, rel=0.025)


def test_radiation_of_a_lamps_side() -> None:
    assert radiation_film(0.9, 45.0, 25.0) == pytest.approx(5.97940, abs=5e-6)


@pytest.mark.parametrize(
    ("kelvin", "viscosity", "conductivity", "prandtl"),
    [(250.0, 11.44e-6, 0.0223, 0.720), (300.0, 15.89e-6, 0.0263, 0.707), (350.0, 20.92e-6, 0.0300, 0.700)],
)
def test_air_against_the_table(kelvin: float, viscosity: float, conductivity: float, prandtl: float) -> None:
    # Incropera & DeWitt, 6th ed., Table A.4
    air = air_at(kelvin - 273.15)
    assert air.viscosity == pytest.approx(viscosity, rel=0.02)
    assert air.conductivity == pytest.approx(conductivity, rel=0.01)
    assert air.prandtl == pytest.approx(prandtl, rel=0.02)


def test_a_warm_floor_gives_off_more_than_a_warm_ceiling() -> None:
    up, down = (level_film(0.05, 45.0, 25.0, gives_upwards=up) for up in (True, False))
    assert up == pytest.approx(2.0 * down)
