"""What a round cutter leaves in corners by closed form, and what it is too thick or too short for."""

from dataclasses import replace
from math import pi, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.checks.cutter import cutter, uncut_inside, uncut_outside
from stackview.description.lamp import Groove, Layer, Opening
from stackview.description.outline import Around, Outline
from stackview.description.shapes import Curve, Rectangle, Regular
from stackview.findings import Level
from tests.checks.subjects import ASH, alarms, sheet, subject_of
from tests.stack.layers import circle, plate, pocket, ring, square


@pytest.mark.parametrize("sides", [3, 4, 6, 8])
@pytest.mark.parametrize("radius", [1.5, 3.175])
def test_corners_left_uncut(sides: int, radius: float) -> None:
    # Between two tangents that meet at the angle θ and the arc: r² (cot(θ/2) − (π − θ)/2); square r²(1 − π/4).
    theta = pi - 2.0 * pi / sides
    each = radius**2 * (1.0 / tan(theta / 2.0) - (pi - theta) / 2.0)
    left = uncut_inside(Outline(Regular(sides, 80.0)), radius)
    assert left.area == pytest.approx(sides * each, rel=0.02, abs=0.1)


def test_four_square_corners() -> None:
    left = uncut_inside(square(60.0), 3.0)
    assert left.area == pytest.approx(4.0 * 9.0 * (1.0 - pi / 4.0), rel=0.01)
    assert left.pieces == 4
    assert abs(left.at[0]) == pytest.approx(abs(left.at[1]), abs=1e-3)
    assert 29.0 < abs(left.at[0]) < 30.0


def test_rounded_corners_and_circles_leave_nothing() -> None:
    assert uncut_inside(square(60.0, 3.0), 3.0).area < 0.05
    assert uncut_inside(circle(60.0), 3.0).area == 0.0
    assert uncut_outside(square(60.0), 3.0).area < 0.05  # outer corners are cut sharp


def test_slot_in_the_outer_edge() -> None:
    # A slot 2 mm wide and 20 mm deep, into which a cutter of 3 mm does not get.
    points = [(40, -30), (40, 30), (1, 30), (1, 10), (-1, 10), (-1, 30), (-40, 30), (-40, -30)]
    outline = Outline(Curve(tuple((float(x), float(y), 0.0) for x, y in points), "slot.svg"))
    left = uncut_outside(outline, 1.5)
    # A disc across the mouth dips in by r − √(r² − 1): it leaves about 40 mm² less than that.
    assert 38.0 < left.area < 40.0
    (found,) = alarms(cutter(subject_of(Layer("leaf", ASH, 5.0, outline))))
    assert "outer edge" in found.what
    assert "x 0 mm, y 19." in found.what or "x 0 mm, y 20." in found.what
    assert not alarms(cutter(subject_of(Layer("leaf", ASH, 5.0, outline), cutter=1.9)))


def test_drilled_holes_and_narrow_grooves_are_notes() -> None:
    hole = Opening(circle(2.0), Around(3, 60.0))
    groove = Groove("top", "outline", 4.0, 1.5, 0.8)
    base = Layer("base", ASH, 10.0, circle(100.0), openings=(hole,), grooves=(groove,))
    drill, narrow = cutter(subject_of(base))
    assert {drill.level, narrow.level} == {Level.NOTE}
    assert "3 round holes of 2 mm (opening)" in drill.what
    assert (narrow.value, narrow.limit) == (1.5, 3.0)


def test_rounded_corners_of_a_pocket_are_a_note() -> None:
    host = Layer("host", ASH, 10.0, circle(150.0), recesses=(pocket(square(60.0), 2.0, 0.0, 1.5),))
    (found,) = cutter(subject_of(host))
    assert found.level == Level.NOTE
    assert "4 inside corners come out rounded to 1.5 mm" in found.what
    assert found.value == pytest.approx(4.0 * 1.5**2 * (1.0 - pi / 4.0), rel=0.05)


@pytest.mark.parametrize(("thickness", "deep"), [(18.0, False), (18.1, True)])
def test_depth_against_stick_out(thickness: float, deep: bool) -> None:
    # Six diameters of a 3 mm cutter are 18 mm.
    found = cutter(subject_of(Layer("base", ASH, thickness, circle(100.0))))
    assert bool(alarms(found)) == deep
    if deep:
        assert (found[0].value, found[0].limit) == (18.1, 18.0)
        (way,) = found[0].ways
        assert (way.part, way.key, way.guess) == ("", "cutter", pytest.approx(18.1 / 6.0))


def test_a_longer_cutter_may_be_named() -> None:
    subject = subject_of(Layer("base", ASH, 30.0, circle(100.0)), limits={"cutter_reach": 10.0})
    assert cutter(subject) == ()


def test_metal_is_not_routed() -> None:
    rod = Layer("rod", replace(ASH, kind="metal"), 60.0, circle(30.0), openings=(Opening(circle(2.0)),))
    assert cutter(subject_of(rod)) == ()


def test_layers_alike_are_one_finding_in_stack_order() -> None:
    thick = sheet(ASH, 20.0)
    layers = [replace(ring(f"ring {n}", thick=20.0), material=thick) for n in range(2)]
    (found,) = cutter(subject_of(layers[0], plate("plate", circle(110.0)), layers[1]))
    assert found.where == "ring 0 and ring 1"


def test_no_flaw_no_alarm() -> None:
    assert cutter(subject_of(ring("ring"), plate("plate", circle(110.0)))) == ()


@settings(max_examples=20, deadline=None)
@given(radius=st.floats(0.5, 5.0), smaller=st.floats(0.1, 0.9))
def test_a_smaller_cutter_leaves_less(radius: float, smaller: float) -> None:
    outline = Outline(Rectangle(60.0, 40.0))
    assert uncut_inside(outline, radius * smaller).area <= uncut_inside(outline, radius).area + 1e-6


@settings(max_examples=15, deadline=None)
@given(scale=st.floats(0.5, 5.0))
def test_scaling_scales_areas_by_the_square(scale: float) -> None:
    one, other = Outline(Rectangle(60.0, 40.0)), Outline(Rectangle(60.0 * scale, 40.0 * scale))
    assert uncut_inside(other, 3.0 * scale).area == pytest.approx(
        scale**2 * uncut_inside(one, 3.0).area, rel=0.02
    )
