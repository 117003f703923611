"""What carries what, by closed forms of plane geometry and statics."""

from dataclasses import replace
from math import acos, inf, pi, sqrt

import pytest
import shapely

from stackview.description.lamp import Around, Core, Feet, Lamp, Layer, Opening
from stackview.stack.assembly import Stack, assemble
from tests.stack.layers import ASH, circle, plate, pocket, ring, square


def stacked(*layers: Layer, core: Core | None = None, feet: Feet | None = None) -> Stack:
    return assemble(Lamp("test", "mm", layers, core=core, feet=feet))


def spacers(circle_: float, count: int = 3, across: float = 6.0) -> Layer:
    return Layer("spacers", ASH, 5.0, circle(across), around=Around(count, circle_, 0.0))


def test_a_plate_on_the_floor_of_its_recess() -> None:
    (found,) = stacked(
        ring("ring", recess=pocket(circle(104.0), 2.0)), plate("plate", circle(104.0))
    ).supports.pieces
    assert found.on == ("ring",)
    assert found.area.area == pytest.approx(pi / 4.0 * (104.0**2 - 92.0**2), rel=1e-4)
    assert found.width(20.0) == pytest.approx(6.0, abs=0.004)
    assert found.width(2.0) == 2.0
    assert found.margin == pytest.approx(52.0, abs=0.004)


@pytest.mark.parametrize("turn", [0.0, 7.3])
def test_what_is_as_wide_as_its_opening_stands_on_nothing(turn: float) -> None:
    host = Layer("host", ASH, 10.0, circle(120.0), openings=(Opening(circle(30.0)),), turn=turn)
    stack = stacked(host, core=Core(ASH, circle(30.0), 40.0, "host", None))
    (found,) = stack.supports.pieces
    assert (found.on, found.drop, found.onto, found.margin) == ((), 10.0, None, -inf)
    assert found.area.area == found.width(1.0) == 0.0


def test_a_part_in_the_air_falls_onto_what_is_below_it() -> None:
    floor = Layer("floor", ASH, 8.0, circle(120.0))
    host = Layer("host", ASH, 10.0, circle(120.0), openings=(Opening(circle(40.0)),))
    stack = stacked(floor, host, core=Core(ASH, circle(30.0), 40.0, "host", None))
    found = stack.supports.of("core")[0]
    assert (found.drop, found.onto) == (pytest.approx(10.0), "floor")


@pytest.mark.parametrize("middle", [45.8, 45.9, 46.0, 47.0, 52.0])
def test_a_spacer_over_the_edge_of_an_opening(middle: float) -> None:
    # Two circles, the spacer's r = 3 about the point d = middle and the opening's R = 46 about the axis, cross
    # on the chord at (d² + R² − r²)/2d from the axis; what carries lies beyond it, between the two arcs.
    d, big, small = middle, 46.0, 3.0
    chord = (d * d + big * big - small * small) / (2.0 * d)
    for found in stacked(ring("ring"), spacers(2.0 * middle)).supports.of("spacers"):
        if d - small >= big:
            assert found.margin == pytest.approx(small, abs=0.004)
            continue
        lens = (
            small**2 * acos((d * d + small**2 - big**2) / (2.0 * d * small))
            + big**2 * acos((d * d + big**2 - small**2) / (2.0 * d * big))
            - 0.5 * sqrt((-d + small + big) * (d + small - big) * (d - small + big) * (d + small + big))
        )
        assert found.area.area == pytest.approx(pi * small**2 - lens, abs=0.02)
        assert found.margin == pytest.approx(min(d - chord, small), abs=0.004)
        assert found.width(9.0) == pytest.approx(min(d + small - big, 6.0), abs=0.004)


def test_a_part_on_two_others_is_carried_by_both() -> None:
    base, cap = Layer("base", ASH, 10.0, square(100.0)), Layer("cap", ASH, 10.0, square(100.0))
    hollow = Layer("block", ASH, 10.0, square(90.0), openings=(Opening(square(80.0), main=True),))
    stack = stacked(base, hollow, cap, core=Core(ASH, circle(6.0), 10.0, "base", None))
    assert stack.supports.of("cap")[0].on == ("block", "core")
    assert stack.supports.of("cap")[0].area.area == pytest.approx(90.0**2 - 80.0**2 + 9.0 * pi, rel=1e-4)
    # the cap stands on two parts, so that neither is loaded with it alone; the base carries all
    loads = {load.part: load.carries for load in stack.supports.loads}
    assert loads == {"block": (), "core": (), "cap": ()}


def test_a_staircase_by_hand() -> None:
    # Blocks of 40, each 10 further: under block j of N the margin is 20 − d − d(N − j)/2 with d = 10.
    steps = [Layer(f"b{k}", ASH, 10.0, replace(square(40.0), at=(10.0 * k, 0.0))) for k in range(6)]
    supports = stacked(*steps).supports
    assert [one.margin for one in supports.pieces] == pytest.approx([10.0] * 5)
    assert [one.margin for one in supports.loads] == pytest.approx(
        [20.0 - 10.0 - 5.0 * (5 - j) for j in range(1, 6)]
    )
    assert supports.loads[0].carries == ("b2", "b3", "b4", "b5")


def test_one_spacer_of_a_ring_carries_it_at_one_side() -> None:
    found = stacked(ring("ring"), spacers(105.0, count=1), ring("upper")).supports.of("upper")[0]
    assert found.margin == pytest.approx(-(52.5 - 3.0), abs=0.01)


@pytest.mark.parametrize(("across", "passed"), [(80.0, True), (86.0, True), (92.0, False), (105.0, False)])
def test_spacers_that_go_through_the_ring(across: float, passed: bool) -> None:
    base = Layer("base", ASH, 10.0, circle(120.0))
    supports = stacked(base, ring("ring"), spacers(across), ring("upper")).supports
    assert supports.passed == ((("spacers", "ring"),) if passed else ())
    assert {on for one in supports.of("spacers") for on in one.on} == {"base" if passed else "ring"}


def test_a_ring_round_a_disc_has_not_gone_through_it() -> None:
    base, disc = Layer("base", ASH, 10.0, circle(120.0)), Layer("disc", ASH, 4.0, circle(80.0))
    assert stacked(base, disc, ring("ring"), ring("upper")).supports.passed == ()


def test_feet_under_and_beside_a_square_base() -> None:
    feet = Feet(ASH, 10.0, 3.0, Around(4, 130.0, 0.0))
    beside = stacked(Layer("base", ASH, 10.0, square(100.0)), feet=feet)
    assert [foot.carried for foot in beside.supports.feet] == [False] * 4
    diagonal = Feet(ASH, 10.0, 3.0, Around(4, 120.0, 45.0))
    under = stacked(Layer("base", ASH, 10.0, square(100.0)), feet=diagonal)
    assert [foot.on for foot in under.supports.feet] == [("base",)] * 4
    assert [foot.area.area for foot in under.supports.feet] == pytest.approx([25.0 * pi] * 4, rel=1e-3)


def test_what_carries_is_kept_by_value() -> None:
    layers = (ring("ring", recess=pocket(circle(104.0), 2.0)), plate("plate", circle(104.0)))
    first, second = stacked(*layers).supports, stacked(*layers).supports
    assert first is not second
    assert shapely.equals(first.pieces[0].area, second.pieces[0].area)
    stack = stacked(*layers)
    assert stack.supports is stack.supports
