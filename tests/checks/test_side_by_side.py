"""Runs side by side on a core."""

from dataclasses import replace
from math import pi

import pytest

from stackview.checks.side_by_side import side_by_side
from stackview.description.light_source import Runs, Strip
from stackview.description.outline import Outline
from stackview.description.shapes import Rectangle
from stackview.findings import Level
from stackview.study import Study
from tests.light.lamps import ROUND, stack_with

SQUARE = replace(ROUND, outline=Outline(Rectangle(20.0, 20.0)))


def found(count: int, width: float, core):  # type: ignore[no-untyped-def]
    layout = Runs(Strip(10.0, 20.0, width, 1.0), count, 0.0, 0.0, None)
    subject = Study.of(stack_with(layout, core))
    light = subject.light
    return side_by_side(subject, light.lit[0], layout, light.ribbons, core)


@pytest.mark.parametrize("count", [1, 2, 4, 8])
def test_strips_with_room_between_them(count: int) -> None:
    # Tangent strips 10 wide on radius 16: neighbours meet when tan(180°/n) < 5/16, from n = 11 on.
    assert found(count, 10.0, ROUND) == ()


def test_strips_over_one_another() -> None:
    assert found(10, 10.0, ROUND) == ()
    (finding,) = found(11, 10.0, ROUND)
    assert finding.level == Level.FAULT
    # nine times 10 go round 2π·15 = 94.2; that ten pass too, a trial finds
    count, core = finding.ways
    assert (count.key, count.now, count.guess, count.rough) == ("runs.count", 11.0, 9.0, True)
    assert (core.part, core.guess) == ("core", pytest.approx((110.0 - 30.0 * pi) / (2.0 * pi)))


def test_several_on_one_side_of_a_square() -> None:
    assert found(4, 8.0, SQUARE) == ()
    (finding,) = found(12, 8.0, SQUARE)
    assert finding.level == Level.FAULT
