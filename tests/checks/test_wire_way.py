"""The way of a wire: gaps that are clearly wide enough, clearly not, and exactly as wide as the wire."""

import pytest
import shapely

from stackview.checks.wire_way import Ways
from stackview.description.lamp import Core, Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Rectangle
from tests.checks.subjects import ASH, subject_of
from tests.stack.layers import circle, ring

BASE = Layer("base", ASH, 10.0, circle(100.0))
CAP = Layer("cap", ASH, 10.0, circle(100.0))


def gets_up(bottleneck: float, wire: float) -> bool:
    """From beside the core in a wide ring through a narrow one into the wide ring above."""
    subject = subject_of(
        BASE,
        ring("low", 100.0, 80.0, 20.0),
        ring("narrow", 100.0, 40.0 + 2.0 * bottleneck, 10.0),
        ring("high", 100.0, 80.0, 20.0),
        CAP,
        core=Core(ASH, circle(40.0), 50.0, "base", None),
    )
    reached = Ways(subject, wire / 2.0).reached([(shapely.Point(30.0, 0.0).buffer(1.0), 20.0)])
    return reached.gets_to(shapely.Point(-30.0, 0.0).buffer(1.0), 45.0, 55.0)


@pytest.mark.parametrize(("gap", "passes"), [(5.0, True), (2.0, True), (1.9, False), (0.5, False)])
def test_through_a_gap_beside_the_core(gap: float, passes: bool) -> None:
    assert gets_up(gap, 2.0) is passes


def level_gap(high: float, wire: float) -> bool:
    """From the left to the right of a wall that stands up to ``high`` below the cap."""
    subject = subject_of(
        BASE,
        ring("ring", 100.0, 80.0, 20.0),
        CAP,
        core=Core(ASH, Outline(Rectangle(80.0, 4.0)), 20.0 - high, "base", None),
    )
    reached = Ways(subject, wire / 2.0).reached([(shapely.Point(0.0, 20.0).buffer(1.0), 12.0)])
    return reached.gets_to(shapely.Point(0.0, -20.0).buffer(1.0), 11.0, 29.0)


@pytest.mark.parametrize(("high", "passes"), [(5.0, True), (2.0, True), (1.9, False)])
def test_over_a_wall_under_the_cap(high: float, passes: bool) -> None:
    assert level_gap(high, 2.0) is passes


def test_nothing_begins_inside_wood() -> None:
    subject = subject_of(BASE, ring("ring"), CAP)
    reached = Ways(subject, 1.0).reached([(shapely.Point(0.0, 0.0).buffer(1.0), 5.0)])
    assert reached.heights is None


def test_it_does_not_leave_the_lamp_and_fills_its_inside() -> None:
    subject = subject_of(BASE, ring("ring", 100.0, 80.0, 30.0), CAP)
    reached = Ways(subject, 1.0).reached([(shapely.Point(0.0, 0.0).buffer(1.0), 20.0)])
    assert reached.heights == (pytest.approx(10.0, abs=0.05), pytest.approx(40.0, abs=0.05))
    assert reached.gets_to(shapely.Point(38.0, 0.0).buffer(0.5), 12.0, 38.0)
    assert not reached.gets_to(shapely.Point(45.0, 0.0).buffer(0.5), 0.0, 50.0)
