"""Cracks of known width, seen from a light point in the middle."""

from dataclasses import replace
from math import atan, degrees

import numpy as np
import pytest

from stackview.checks.leaks import cracks, leaks
from stackview.description.lamp import Layer, Surface
from stackview.description.light_source import Diode, Emitter, Feed, Light
from stackview.description.outline import Around
from stackview.findings import Level
from stackview.sight.surface import edge_distance
from stackview.study import Study
from tests.checks.subjects import ASH, alarms, subject_of
from tests.stack.layers import circle, ring

UNDER = 0.05
"""How far the light point lies below the ring's top [mm]: it faces up, and sees the gap almost level."""


def bulb(height: float) -> Light:
    emitter = Emitter(beam=120.0, face=(1.0, 1.0), kelvin=2700.0, lumens=None, watts=1.0)
    return Light("bulb", Diode("base", "up", (0.0, 0.0), height, 0.0, 0.0), emitter, Feed(5.0, None))


def lamp(gap: float | None, **limits: float) -> Study:
    """A closed drum; between its ring and its upper ring three spacers hold a gap open."""
    base, cap = Layer("base", ASH, 10.0, circle(120.0)), Layer("cap", ASH, 10.0, circle(120.0))
    spacers = (
        [Layer("spacers", ASH, gap, circle(4.0), around=Around(3, 106.0, 15.0))] if gap is not None else []
    )
    return subject_of(
        base, ring("ring"), *spacers, ring("upper"), cap, lights=(bulb(10.0 - UNDER),), limits=limits
    )


def test_a_tight_stack_has_no_cracks() -> None:
    assert leaks(lamp(None)) == ()


@pytest.mark.parametrize("gap", [0.3, 1.0, 1.499])
def test_a_crack_is_found_with_its_width_and_elevations(gap: float) -> None:
    (found,) = leaks(lamp(gap))
    assert found.level == Level.CAUTION
    assert found.where == "ring and upper"
    assert found.value == pytest.approx(gap)
    # The line clears the lower edge at the inner radius, 46 mm, and the upper edge at the outer, 60 mm.
    (crack,) = cracks(lamp(gap), 1.5)
    assert crack.low == pytest.approx(degrees(atan(UNDER / 46.0)), abs=0.01)
    assert crack.high == pytest.approx(degrees(atan((UNDER + gap) / 60.0)), abs=0.01)
    assert crack.points == 1


def test_an_opening_that_was_meant_is_no_crack() -> None:
    subject = lamp(5.0)
    assert subject.sightlines.share_bare > 0.0
    assert leaks(subject) == ()
    assert leaks(lamp(1.5)) == ()  # at the limit is within the limit


def test_own_limit() -> None:
    assert leaks(lamp(1.6, leak=2.0))
    assert leaks(lamp(1.0, leak=0.5)) == ()


def test_a_wide_way_up_beside_a_disc_is_no_crack() -> None:
    # The disc's underside stands 1 mm above the ring's top, but 20 mm inside it: a wide annular way out.
    base = Layer("base", ASH, 10.0, circle(120.0))
    stalk = Layer("stalk", ASH, 11.0, circle(6.0), around=Around(3, 30.0))
    disc = Layer("disc", ASH, 5.0, circle(52.0))
    wide = subject_of(base, ring("ring"), stalk, disc, lights=(bulb(2.0),))
    assert wide.stack.part("disc").underside == pytest.approx(wide.stack.part("ring").top + 1.0)
    assert not alarms(leaks(wide))
    # The same disc, almost as wide as the opening: a slit of 0.5 mm all round.
    close = subject_of(base, ring("ring"), stalk, replace(disc, outline=circle(91.0)), lights=(bulb(2.0),))
    (found,) = leaks(close)
    assert found.value == pytest.approx((0.5**2 + 1.0**2) ** 0.5, abs=0.1)


def test_no_light_no_leak() -> None:
    assert leaks(subject_of(Layer("base", ASH, 10.0, circle(120.0)))) == ()


def test_an_open_tier_narrows_beside_its_spacers_and_has_no_crack_there() -> None:
    # spacers flush with the inside of the ring, so that lines pass close by their sides
    base, cap = Layer("base", ASH, 10.0, circle(120.0)), Layer("cap", ASH, 10.0, circle(120.0))
    spacers = Layer("spacers", ASH, 6.0, circle(6.0), around=Around(12, 98.0))
    wide = subject_of(base, ring("ring"), spacers, ring("upper"), cap, lights=(bulb(9.0),), bearings=720)
    assert wide.sightlines.share_bare > 0.0
    assert leaks(wide) == ()


def test_below_the_table_nobody_looks() -> None:
    # a crack at the lamp's foot: the light looks down through it on to the table
    low = [
        Layer("foot", ASH, 10.0, circle(120.0)),
        Layer("chips", ASH, 0.8, circle(8.0), around=Around(3, 110.0)),
        ring("ring", 120.0, 100.0, 3.0),
        Layer("cap", ASH, 10.0, circle(120.0)),
    ]
    high = Light(
        "bulb",
        Diode("cap", "down", (0.0, 0.0), 0.5, 0.0, 0.0),
        Emitter(beam=120.0, face=(1.0, 1.0), kelvin=2700.0, lumens=None, watts=1.0),
        Feed(5.0, None),
    )
    lamp_ = subject_of(*low, lights=(high,)).lamp
    table = Surface(700.0, (1000.0, 1000.0))
    assert leaks(Study(replace(lamp_, surface=table), bearings=72)) == ()
    # at the edge of a shelf, an eye below it sees it
    shelf = Surface(700.0, (130.0, 130.0))
    assert leaks(Study(replace(lamp_, surface=shelf), bearings=72))
    assert leaks(Study(replace(lamp_, hangs_at=1500.0), bearings=72))


def test_distance_to_the_tables_edge_by_hand() -> None:
    places = np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 0.0], [80.0, 0.0]])
    bearing = np.radians([0.0, 90.0, 45.0, 0.0])
    box = Surface(700.0, (100.0, 60.0))
    assert edge_distance(box, places, bearing) == pytest.approx([30.0, 40.0, 30.0 * 2**0.5, 0.0])
    round_ = Surface(700.0, (100.0,), (20.0, 0.0))
    # seen from 20 mm right of the middle: forwards √(50² − 20²)
    assert edge_distance(round_, places[:1], bearing[:1]) == pytest.approx([2100.0**0.5])
    assert edge_distance(None, places, bearing) == pytest.approx(np.full(4, np.inf))
