import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.wire import least_area, strip_drop, two_wire_drop, wire_resistance
from stackview.description.wire_size import wire_area


@pytest.mark.parametrize(
    ("gauge", "milliohms"),
    [(18, 20.948), (20, 33.308), (22, 52.962), (24, 84.213), (26, 133.904), (28, 212.916), (30, 338.550)],
)
def test_wire_gauges_against_the_standard(gauge: int, milliohms: float) -> None:
    # ASTM B258 diameters, copper of 0.017241 Ω·mm²/m at 20 °C
    area = wire_area(f"AWG {gauge}")
    assert area is not None
    assert 1000.0 * wire_resistance(area) == pytest.approx(milliohms, abs=5e-4)


def test_two_wire_drop_of_the_code_book() -> None:
    # NEC chapter 9, Table 8, worked example: 100 ft, AWG 16, 4.99 Ω/kft, 4 A → 3.992 V
    assert two_wire_drop(4.99 / 304.8, 30.48, 4.0) == pytest.approx(3.992, abs=1e-9)


def test_strip_of_sixty() -> None:
    # N 60, i 20 mA, r 0.5/60 Ω: i·r·N(N + 1)/2 = 0.305 V
    assert strip_drop(60, 0.02, 0.5 / 60) == pytest.approx(0.305)


@pytest.mark.parametrize("both_ends", [False, True])
@pytest.mark.parametrize("count", [1, 2, 3, 8, 13])
def test_strip_against_the_ladder_solved_as_linear_equations(count: int, both_ends: bool) -> None:
    # Kirchhoff's current law at each tap, conductance 1/r between neighbours, fed at 0 V
    ohms, amps = 0.01, 0.02
    matrix, drawn = np.zeros((count, count)), np.full(count, amps)
    for tap in range(count):
        for neighbour in (tap - 1, tap + 1):
            if neighbour == count and not both_ends:
                continue
            matrix[tap, tap] += 1.0 / ohms
            if 0 <= neighbour < count:
                matrix[tap, neighbour] -= 1.0 / ohms
    worst = float(np.linalg.solve(matrix, drawn).max())
    assert strip_drop(count, amps, ohms, both_ends=both_ends) == pytest.approx(worst)


@given(st.floats(0.1, 10.0), st.floats(0.1, 10.0), st.floats(0.01, 5.0))
def test_the_least_area_loses_just_so_much(metres: float, amps: float, volts: float) -> None:
    area = least_area(metres, amps, volts)
    assert two_wire_drop(wire_resistance(area), metres, amps) == pytest.approx(volts)
