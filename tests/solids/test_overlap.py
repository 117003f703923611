import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.description.lamp import Recess
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Circle, Rectangle
from stackview.solids.build import rod, solid_of
from stackview.solids.overlap import overlap, placed


def bar(width: float, depth: float, height: float, x: float = 0.0, y: float = 0.0):  # type: ignore[no-untyped-def]
    return rod(Outline(Rectangle(width, depth), at=(x, y)), None, height, None, 0.05)


def test_two_bars_across_each_other() -> None:
    found = overlap(bar(100.0, 10.0, 20.0), placed(bar(10.0, 100.0, 20.0), 0.0, 15.0))
    assert found is not None
    assert found.volume == pytest.approx(10.0 * 10.0 * 5.0, rel=1e-12)
    assert found.centre == pytest.approx((0.0, 0.0, 17.5))
    assert found.low == pytest.approx((-5.0, -5.0, 15.0))
    assert found.high == pytest.approx((5.0, 5.0, 20.0))
    # Twice the volume over the surface: 2·500/(2·100 + 4·50).
    assert found.depth == pytest.approx(2.5)


def test_bars_apart() -> None:
    assert overlap(bar(10.0, 10.0, 5.0), bar(10.0, 10.0, 5.0, 30.0)) is None


@pytest.mark.parametrize("turn", [0.0, 15.0, 33.3, 45.0, 90.0])
def test_touching_faces_do_not_count(turn: float) -> None:
    a = placed(bar(40.0, 40.0, 12.0), turn, 0.0)
    assert overlap(a, placed(bar(40.0, 40.0, 12.0), turn, 12.0)) is None
    assert overlap(a, placed(bar(40.0, 40.0, 12.0, 40.0), turn, 0.0)) is None


@pytest.mark.parametrize("turn", [0.0, 20.0, 45.0])
def test_a_plate_in_its_recess_with_no_clearance(layer, turn: float) -> None:
    frame = solid_of(
        layer(
            Rectangle(100.0, 100.0), 18.0, recesses=(Recess("top", 5.0, Outline(Rectangle(70.0, 70.0)), 0.0),)
        ),
        0.05,
    )
    plate = solid_of(layer(Rectangle(70.0, 70.0), 3.0), 0.05)
    assert overlap(placed(frame, turn, 0.0), placed(plate, turn, 13.0)) is None
    deep = overlap(placed(frame, turn, 0.0), placed(plate, turn, 12.9))
    assert deep is not None
    assert deep.volume == pytest.approx(4900.0 * 0.1, rel=1e-9)


def test_facets_of_two_equal_discs_turned_against_each_other(layer) -> None:
    # A disc in a recess of its own size, turned by half a facet: its corners stick into the recess's facets.
    frame = solid_of(
        layer(Rectangle(100.0, 100.0), 18.0, recesses=(Recess("top", 5.0, Outline(Circle(70.0)), 0.0),)), 0.05
    )
    disc = placed(solid_of(layer(Circle(70.0), 3.0), 0.05), 3.0, 13.0)
    assert overlap(frame, disc, depth=2 * 0.05) is None


def test_several_shared_parts_add_up_and_the_largest_is_located() -> None:
    pins = rod(Outline(Circle(4.0)), Around(4, 30.0), 10.0, None, 0.001)
    found = overlap(bar(100.0, 100.0, 8.0), pins)
    assert found is not None
    assert found.volume == pytest.approx(4.0 * math.pi * 4.0 * 8.0, rel=1e-3)
    assert found.pieces == 4
    # The place is a real one, on the circle of pins, not the empty middle of them all.
    assert math.hypot(*found.centre[:2]) == pytest.approx(15.0, rel=1e-3)
    assert found.centre[2] == pytest.approx(4.0)


@settings(max_examples=25, deadline=None)
@given(st.floats(-15.0, 15.0), st.floats(-15.0, 15.0), st.floats(-8.0, 8.0))
def test_two_boxes(x: float, y: float, z: float) -> None:
    found = overlap(bar(20.0, 16.0, 6.0), placed(bar(20.0, 16.0, 6.0, x, y), 0.0, z))
    exact = max(20.0 - abs(x), 0.0) * max(16.0 - abs(y), 0.0) * max(6.0 - abs(z), 0.0)
    if exact > 1.0:
        assert found is not None
        assert found.volume == pytest.approx(exact, rel=1e-9)
    if exact == 0.0:
        assert found is None
