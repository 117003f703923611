"""Where a cable leaves its bore, by hand: wide enough, not at all, and exactly as wide."""

from math import sqrt

import pytest
import shapely

from stackview.checks.bore_exit import chord, exits
from stackview.description.lamp import Bore, Layer, Opening
from stackview.description.outline import Outline
from stackview.description.shapes import Circle
from tests.stack.layers import ASH, circle, pocket, square


def plain(*openings: Outline, recess: float | None = None, face: str = "top") -> Layer:
    recesses = (pocket(circle(40.0), recess, 0.0, face=face),) if recess is not None else ()
    return Layer("a", ASH, 10.0, circle(100.0), openings=tuple(map(Opening, openings)), recesses=recesses)


# Ø6 at mid-height of 10: from 2 to 8
MIDDLE = Bore(6.0, 5.0, 180.0)


@pytest.mark.parametrize(
    ("layer", "comes_out"),
    [
        (plain(), False),
        (plain(circle(8.0)), True),
        (plain(circle(4.0)), True),  # exactly the cable
        (plain(circle(3.9)), False),
        (plain(recess=2.0), False),
        (plain(recess=2.3), False),  # it grazes the recess by 0.3
        (plain(recess=4.0), True),
        (plain(recess=4.0, face="underside"), True),
        (plain(Outline(Circle(8.0), at=(20.0, 0.0))), False),  # beside its way
        (plain(Outline(Circle(8.0), at=(0.0, 20.0))), True),
    ],
)
def test_a_cable_of_4_mm(layer: Layer, comes_out: bool) -> None:
    assert bool(exits(layer, MIDDLE, 4.0)) is comes_out


def test_a_recess_opens_a_bore_by_a_chord() -> None:
    # 2√(3² − (3 − o)²) = 4 at o = 3 − √5
    at = 3.0 - sqrt(5.0)
    assert chord(6.0, at) == pytest.approx(4.0)
    assert exits(plain(recess=2.0 + at + 1e-6), MIDDLE, 4.0)
    assert not exits(plain(recess=2.0 + at - 1e-3), MIDDLE, 4.0)


def test_it_comes_out_at_the_bore_or_over_the_recess_floor() -> None:
    (hole,) = exits(plain(circle(8.0)), MIDDLE, 4.0)
    assert hole.height == 5.0
    # The cable of 4 lies on the floor at 6, or hangs under the one at 4: its middle is 2 off. Where the bore's
    # middle opens into the recess, it is there.
    (floor,) = exits(plain(recess=4.0), MIDDLE, 4.0)
    assert floor.height == pytest.approx(8.0)
    (below,) = exits(plain(recess=4.0, face="underside"), MIDDLE, 4.0)
    assert below.height == pytest.approx(2.0)
    (open_,) = exits(plain(recess=7.0), MIDDLE, 4.0)
    assert open_.height == pytest.approx(5.0)


def test_a_short_bore_stops_before_the_opening() -> None:
    layer = plain(circle(8.0))
    assert not exits(layer, Bore(6.0, 5.0, 90.0, length=40.0), 4.0)
    # from the side of Ø100 to 3 mm from the axis: the whole cable has room in the opening
    assert exits(layer, Bore(6.0, 5.0, 90.0, length=47.0), 4.0)


def test_a_pin_in_its_way() -> None:
    layer = plain(circle(8.0))
    pin = shapely.Point(0.0, 30.0).buffer(2.0)
    assert not exits(layer, MIDDLE, 4.0, pin)
    assert exits(layer, MIDDLE, 4.0, shapely.Point(10.0, 30.0).buffer(2.0))  # beside it


def test_from_any_bearing_and_in_any_outline() -> None:
    for bearing in range(0, 360, 15):
        layer = Layer("a", ASH, 10.0, square(100.0), openings=(Opening(circle(8.0)),))
        assert exits(layer, Bore(6.0, 5.0, float(bearing)), 4.0), bearing
