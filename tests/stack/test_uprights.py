"""Core, posts, feet and cord: where they stand, and what is said when nothing is left of them."""

from dataclasses import replace
from math import pi

import pytest

from stackview.description.lamp import Cord, Core, Feet, Lamp, Layer, Post
from stackview.description.outline import Around
from stackview.description.units import Units
from stackview.errors import Fault, LampError, SolidError
from stackview.solids.measure import volume
from stackview.stack import uprights
from stackview.stack.assembly import assemble
from tests.lamps import box
from tests.stack.layers import ASH, circle, pocket, ring

BASE = Layer("base", ASH, 18.0, circle(130.0))
LAMP = Lamp("test", "mm", (BASE, ring("ring", thick=60.0), replace(BASE, name="lid")), chord_error=0.01)
PLACES = {
    "base": box("base", (-65, -65, 0), (65, 65, 18)),
    "ring": box("ring", (-60, -60, 18), (60, 60, 78)),
    "lid": box("lid", (-65, -65, 78), (65, 65, 96)),
}
CORE = Core(ASH, circle(30.0), 40.0, "base", None)


def test_a_solid_that_cannot_be_made_is_a_fault_at_its_place() -> None:
    def fails() -> None:
        raise SolidError("wall", "{wall} is too much, {room:most} fits", wall=25.4, room=12.6)

    faults: list[Fault] = []
    assert uprights.solid_or_fault("core", Units("in"), faults, fails) is None  # type: ignore[arg-type]
    assert faults == [Fault("core · wall", "1 in is too much, 0.496 in fits")]


def test_every_part_that_cannot_be_made_is_told_in_the_lamps_unit() -> None:
    post = Post("pin", ASH, circle(6.35), "base", "ring", around=Around(4, 6.35))
    lamp = replace(LAMP, unit="ft", core=replace(CORE, outline=circle(25.4), wall=12.7), posts=(post,))
    with pytest.raises(LampError) as caught:
        assemble(lamp)
    said = [str(fault) for fault in caught.value.faults]
    assert "an inset of 1/2 in (12.7 mm) per side is too much" in said[0]
    assert "4 copies on a circle of 1/4 in (6.35 mm) run into each other" in said[1]


@pytest.mark.parametrize(
    ("core", "low", "high"),
    [
        (CORE, 18.0, 58.0),
        (replace(CORE, sunk=3.0), 15.0, 55.0),
        (replace(CORE, stands_on=None, hangs_from="lid"), 38.0, 78.0),
        (replace(CORE, stands_on=None, hangs_from="lid", sunk=3.0), 41.0, 81.0),
        (replace(CORE, height=None), 18.0, 78.0),
        (replace(CORE, height=None, stands_on=None, hangs_from="lid"), 18.0, 78.0),
        (replace(CORE, height=None, hangs_from="lid"), 18.0, 78.0),
    ],
)
def test_where_the_core_stands(core: Core, low: float, high: float) -> None:
    faults: list[Fault] = []
    (made,) = uprights.core(LAMP, core, PLACES, faults)
    assert (made.underside, made.top) == pytest.approx((low, high))
    assert made.role == "core"
    assert faults == []
    # A cylinder's volume, less its facets.
    assert volume(made.solid) == pytest.approx(pi * 15.0**2 * (high - low), rel=2e-3)


@pytest.mark.parametrize(("sunk", "low"), [(0.0, 16.0), (1.0, 16.0), (2.0, 16.0), (3.0, 15.0)])
def test_a_recess_counts_towards_what_a_core_is_sunk(sunk: float, low: float) -> None:
    # a base 18 thick with a recess 2 deep that takes the core
    base = replace(BASE, recesses=(pocket(circle(31.0), 2.0, 0.0),))
    lamp = replace(LAMP, layers=(base, *LAMP.layers[1:]))
    (made,) = uprights.core(lamp, replace(CORE, sunk=sunk), PLACES, [])
    assert made.underside == pytest.approx(low)


def test_a_tube_is_hollow() -> None:
    (tube,) = uprights.core(LAMP, replace(CORE, wall=2.0), PLACES, [])
    assert volume(tube.solid) == pytest.approx(pi * (15.0**2 - 13.0**2) * 40.0, rel=5e-3)


def test_a_core_drops_into_the_recess_that_takes_it() -> None:
    low = replace(BASE, recesses=(pocket(circle(30.0), 4.0),))
    (made,) = uprights.core(replace(LAMP, layers=(low, *LAMP.layers[1:])), CORE, PLACES, [])
    assert made.underside == 14.0


def test_a_core_that_nothing_closes_says_what_to_give() -> None:
    faults: list[Fault] = []
    open_above = replace(LAMP, layers=LAMP.layers[:2])
    assert uprights.core(open_above, replace(CORE, height=None), PLACES, faults) == []
    (fault,) = faults
    assert fault.where == "core · height"
    assert "give a height" in fault.what


def test_posts_are_shortened_at_both_ends() -> None:
    pin = Post("pin", ASH, circle(4.0), "base", "ring", Around(3, 106.0), inset=(2.0, 1.0))
    faults: list[Fault] = []
    (made,) = uprights.post(LAMP, pin, PLACES, faults)
    assert (made.name, made.role, made.underside, made.top) == ("pin", "post", 2.0, 77.0)
    assert volume(made.solid) == pytest.approx(3 * pi * 2.0**2 * 75.0, rel=1e-2)
    assert uprights.post(LAMP, replace(pin, inset=(40.0, 38.0)), PLACES, faults) == []
    assert [fault.where for fault in faults] == ['post "pin" · inset']


def test_feet_stand_under_the_lowest_layer() -> None:
    (made,) = uprights.feet(LAMP, Feet(ASH, 12.0, 3.0, Around(3, 100.0)), PLACES["base"], [])
    assert (made.underside, made.top, made.role) == (-3.0, 0.0, "foot")
    assert volume(made.solid) == pytest.approx(3 * pi * 6.0**2 * 3.0, rel=5e-3)


def test_a_cord_runs_from_the_top_layers_underside() -> None:
    (made,) = uprights.cord(LAMP, Cord(6.0, (0.0, 5.0), 1500.0), PLACES["lid"], [])
    assert (made.underside, made.top, made.role) == (78.0, 1596.0, "cord")
    assert made.solid.vertices[:, 1].min() == pytest.approx(2.0, abs=0.02)
    assert made.opaque
