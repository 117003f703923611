"""Short grain: the wall's width where the grain runs across it."""

from dataclasses import replace

import pytest

from stackview.checks.grain import bevel_of, short_grain, thinnest_across
from stackview.description.lamp import Chamfer, Layer, Opening
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle, Rectangle
from tests.checks.subjects import ASH, subject_of
from tests.stack.layers import circle, pocket


def frame(sides: float, ends: float, grain: float) -> Layer:
    """A frame 120 by 80: walls ``sides`` wide left and right, ``ends`` wide front and back."""
    opening = Opening(Outline(Rectangle(120.0 - 2.0 * sides, 80.0 - 2.0 * ends)), main=True)
    return Layer("frame", ASH, 10.0, Outline(Rectangle(120.0, 80.0)), openings=(opening,), grain=grain)


@pytest.mark.parametrize(("grain", "width"), [(90.0, 5.0), (0.0, 12.0), (270.0, 5.0), (180.0, 12.0)])
def test_the_walls_that_stand_across_the_grain(grain: float, width: float) -> None:
    # Grain from left to right (90°) crosses the left and right walls; front to back (0°) the others.
    layer = frame(5.0, 12.0, grain)
    found = thinnest_across(path_of(layer.outline), path_of(layer.openings[0].outline), grain)
    assert found is not None
    assert found[0] == pytest.approx(width)


def test_short_grain_is_a_caution_with_its_place() -> None:
    layer = frame(5.0, 12.0, 90.0)
    (found,) = short_grain(subject_of(layer), layer)
    assert (found.value, found.limit) == (pytest.approx(5.0), 6.0)
    assert "x 60 mm" in found.what or "x -60 mm" in found.what
    assert [(way.key, way.guess) for way in found.ways] == [
        ("size of opening 0", pytest.approx(-1.0)),
        ("size of outline", pytest.approx(1.0)),
        ("grain", 0.0),
    ]
    assert short_grain(subject_of(layer), replace(layer, grain=0.0)) == []


def test_plywood_has_no_short_grain() -> None:
    layer = replace(frame(5.0, 12.0, 90.0), material=replace(ASH, kind="plywood"))
    assert short_grain(subject_of(layer), layer) == []


def holed(at: float, size: float, grain: float, *chamfers: Chamfer) -> Layer:
    """A board 120 by 80 with one hole ``at`` from its right side."""
    hole = Opening(Outline(Circle(size), at=(60.0 - at - size / 2.0, 0.0)))
    return Layer(
        "board", ASH, 10.0, Outline(Rectangle(120.0, 80.0)), openings=(hole,), grain=grain, chamfers=chamfers
    )


@pytest.mark.parametrize(
    ("at", "size", "grain", "alarm"),
    [
        (10.0, 4.0, 90.0, False),
        (6.0, 4.0, 90.0, False),  # one and a half of its width, at the limit
        (5.9, 4.0, 90.0, True),
        (2.0, 4.0, 90.0, True),
        (2.0, 4.0, 0.0, False),  # the grain runs beside it: that is the wall's own limit
        (6.0, 20.0, 90.0, False),  # a wide one needs a wall's width
        (5.9, 20.0, 90.0, True),
    ],
)
def test_wood_between_a_hole_and_the_end_of_the_grain(
    at: float, size: float, grain: float, alarm: bool
) -> None:
    layer = holed(at, size, grain)
    found = short_grain(subject_of(layer), layer)
    assert bool(found) is alarm
    for one in found:
        assert one.value == pytest.approx(at)
        assert one.limit == pytest.approx(min(1.5 * size, 6.0))


def test_a_blind_hole_needs_no_more_than_it_is_deep() -> None:
    recess = replace(pocket(circle(8.0), 3.0, 0.0), outline=Outline(Circle(8.0), at=(52.0, 0.0)))
    layer = Layer("board", ASH, 10.0, Outline(Rectangle(120.0, 80.0)), recesses=(recess,), grain=90.0)
    assert short_grain(subject_of(layer), layer) == []  # 4 beside 3
    deep = replace(layer, recesses=(replace(recess, depth=5.0),))
    (found,) = short_grain(subject_of(deep), deep)
    assert (found.value, found.limit) == (pytest.approx(4.0), pytest.approx(5.0))


def test_chamfers_are_taken_off_in_the_mean() -> None:
    # a 45° bevel of 2 on a board of 10: 2²/20 = 0.2
    bevel = Chamfer("top outer", 2.0)
    assert bevel_of(holed(6.0, 4.0, 90.0, bevel), "outer") == pytest.approx(0.2)
    (found,) = short_grain(subject_of(holed(6.0, 4.0, 90.0, bevel)), holed(6.0, 4.0, 90.0, bevel))
    assert found.value == pytest.approx(5.8)
    fine = holed(6.2, 4.0, 90.0, bevel)
    assert short_grain(subject_of(fine), fine) == []


def test_round_walls_on_exact_curves() -> None:
    # two circles, the inner 1 aside along the grain: 7 − 1 on that side, to the last digit
    opening = Opening(Outline(Circle(86.0), at=(1.0, 0.0)), main=True)
    layer = Layer("ring", ASH, 10.0, Outline(Circle(100.0)), openings=(opening,), grain=90.0)
    least = thinnest_across(path_of(layer.outline), path_of(opening.outline), 90.0)
    assert least is not None
    assert least[0] == pytest.approx(6.0, abs=1e-9)
    assert short_grain(subject_of(layer), layer) == []
    # across the grain the thin place is at the edge of the angle, 45° off
    turned = thinnest_across(path_of(layer.outline), path_of(opening.outline), 0.0)
    x = 50.0 * 2**-0.5
    assert turned is not None
    assert turned[0] == pytest.approx(((x - 1.0) ** 2 + x**2) ** 0.5 - 43.0, abs=1e-9)
