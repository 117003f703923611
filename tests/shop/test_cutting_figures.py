"""Cutting figures against printed worked examples, and at their limits."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.cutting_table import cutting_ranges
from stackview.description.units import MILLIMETRES, units_of
from stackview.description.workshop import Router
from stackview.shop.cutting_figures import cutting_figures, feed_rate, passes, revolutions, surface_speed


def test_printed_examples() -> None:
    # a cutting-tool maker's page, second-hand: 50 mm at 700 rev/min
    assert surface_speed(50.0, 700.0) == pytest.approx(110.0, abs=0.1)
    # a table book's 12·V/(π·D) with V = 100 ft/min, D = 10 in; from memory
    assert revolutions(30.48, 254.0) == pytest.approx(38.2, abs=0.05)
    # a router shop's page, second-hand: 2 flutes, 0.1 mm a tooth, 18,000 rev/min
    assert feed_rate(18000.0, 2, 0.1) == pytest.approx(3600.0)


@given(st.floats(10.0, 1000.0), st.floats(0.5, 100.0))
def test_speed_and_revolutions_undo_each_other(speed: float, diameter: float) -> None:
    assert surface_speed(diameter, revolutions(speed, diameter)) == pytest.approx(speed)


@given(st.floats(0.1, 50.0), st.floats(0.1, 10.0))
def test_passes_are_no_deeper_than_they_may_be_and_no_more_than_needed(depth: float, most: float) -> None:
    count = passes(depth, most)
    assert depth / count <= most * (1.0 + 1e-6)
    assert count == 1 or depth / (count - 1) > most * (1.0 - 1e-6)


@given(st.sampled_from(sorted(cutting_ranges())), st.floats(0.5, 50.0))
def test_figures_keep_to_the_router_and_say_where_that_leaves_the_range(kind: str, diameter: float) -> None:
    range_, router = cutting_ranges()[kind], Router()
    made = cutting_figures(range_, diameter, router)
    assert router.least_rpm <= made.rpm <= router.most_rpm
    assert made.speed == pytest.approx(surface_speed(diameter, made.rpm))
    inside = range_.speed[0] <= made.speed <= range_.speed[1]
    assert (made.outside == "") is inside
    assert made.feed[0] == pytest.approx(made.rpm * 2 * range_.chip[0] * diameter)
    assert f"{made.rpm:,.0f} rev/min" in made.words(MILLIMETRES)


def test_a_lamp_in_inches_is_cut_in_feet_and_inches_a_minute() -> None:
    made = cutting_figures(cutting_ranges()["wood"], 6.35, Router())
    # 20,000 rev/min: π · 0.25 in · 20,000 / 12 = 1309 ft/min; 2 flutes × 1 % of 0.25 in = 100 in/min
    assert "20,000 rev/min (1309 ft/min), 2 flutes, feed 100 to 300 in/min" in made.words(units_of("in"))


def test_more_flutes_feed_faster() -> None:
    one, two = (cutting_figures(cutting_ranges()["wood"], 6.0, Router(flutes=flutes)) for flutes in (1, 2))
    assert two.feed[0] == pytest.approx(2.0 * one.feed[0])
    assert "1 flute," in one.words(MILLIMETRES)
