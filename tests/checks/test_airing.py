"""Air through open gaps: closed forms, their limits, and the openings of a lamp by hand."""

from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.checks.airing import Vent, breathing, chimney, flow_of, heat_aired, passages, vents_of
from tests.checks.written import SOUND, subject

TWO_GAPS = """
name = "x"
materials.a = { plywood = "birch", sold = 9, measured = 9 }
materials.rod = { metal = "brass" }
layer = [
    { name = "base", material = "a", outline = { circle = 120 } },
    { name = "low", material = "rod", outline = { circle = 6 }, thickness = 5, around = { count = 3, circle = 105 } },
    { name = "ring", material = "a", outline = { circle = 120 }, wall = 14 },
    { name = "high", material = "rod", outline = { circle = 6 }, thickness = 5, around = { count = 3, circle = 105 } },
    { name = "cap", material = "a", outline = { circle = 120 } },
]
core = { material = "rod", outline = { circle = 30 }, stands_on = "base", height = 18 }
"""


def test_two_equal_orifices_let_through_as_one_smaller_by_the_root_of_two() -> None:
    assert chimney([800.0, 800.0], 50.0) == pytest.approx(chimney([800.0], 50.0) / sqrt(2.0))


def test_one_orifice_by_the_formula() -> None:
    # 0.6 · 1e-3 m² · √(2 · 9.81 · 0.1 m)
    assert chimney([1000.0], 100.0) == pytest.approx(0.6e-3 * sqrt(2.0 * 9.81 * 0.1))


@pytest.mark.parametrize(("areas", "rise"), [([0.0, 10.0], 50.0), ([10.0], 0.0), ([10.0], -5.0)])
def test_nothing_flows_through_what_is_shut_or_level(areas: list[float], rise: float) -> None:
    assert chimney(areas, rise) == 0.0


def test_an_opening_alone_breathes_less_than_two_of_half_its_size_a_gap_apart() -> None:
    alone = breathing(Vent(1000.0, 0.0, 20.0))
    assert alone == pytest.approx(0.2 * 1e-3 * sqrt(9.81 * 0.020))
    assert alone < chimney([500.0, 500.0], 100.0)


def test_a_level_opening_by_its_circle() -> None:
    across = 0.040
    assert breathing(Vent(pi * 20.0**2, 0.0, 0.0)) == pytest.approx(0.055 * sqrt(9.81 * across**5))


@given(st.floats(1e-6, 1e-2), st.floats(0.0, 40.0), st.floats(0.1, 60.0))
def test_heat_goes_by_the_power_of_three_halves(flow: float, room: float, over: float) -> None:
    one, four = heat_aired(flow, room + over, room), heat_aired(flow, room + 4.0 * over, room)
    assert four == pytest.approx(8.0 * one, rel=1e-6)
    assert heat_aired(flow, room, room) == heat_aired(flow, room - 1.0, room) == 0.0


def test_gaps_by_hand() -> None:
    low, high = vents_of(subject(TWO_GAPS))
    # the way in is the ring's opening, Ø92, less three rods of 6
    wide = pi * 92.0 - 18.0
    assert low.area == high.area == pytest.approx(5.0 * wide)
    assert (low.height, high.height) == (pytest.approx(11.5), pytest.approx(25.5))
    # the ring between, less the core in it
    assert passages(subject(TWO_GAPS), low.height, high.height) == [pytest.approx(pi * (46.0**2 - 15.0**2))]
    assert flow_of(subject(TWO_GAPS)) == pytest.approx(
        chimney([low.area, pi * (46.0**2 - 15.0**2), high.area], 14.0)
    )


def test_a_shut_lamp_has_no_openings() -> None:
    assert vents_of(subject(SOUND)) == []
    assert flow_of(subject(SOUND)) == 0.0


def test_a_plate_between_two_gaps_stops_the_draught() -> None:
    shut = TWO_GAPS.replace(", wall = 14", "").replace("core =", "unused =").replace("unused", "#")
    lamp = subject(shut)
    low, high = vents_of(lamp)
    assert passages(lamp, low.height, high.height) == [0.0]
    assert flow_of(lamp) == pytest.approx(breathing(low))


def test_an_open_underside_counts_where_air_reaches_it() -> None:
    text = SOUND.replace("[cable]", "[feet]\ncount = 3\ndiameter = 10\nheight = 4\n[cable]")
    (under,) = vents_of(subject(text))
    hole, rim = pi * 4.0**2, pi * 120.0 * 4.0
    assert under.area == pytest.approx(1.0 / sqrt(1.0 / hole**2 + 1.0 / rim**2))
    assert under.height == pytest.approx(4.0)
