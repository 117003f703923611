"""Rectangles about parts, by closed form."""

import math
from dataclasses import replace

import pytest

from stackview.description.lamp import Layer
from stackview.description.outline import Outline
from stackview.description.shapes import Circle, Curve, Rectangle, Regular
from stackview.description.units import units_of
from stackview.shop.part_size import exact_size, part_size
from tests.lamps import WOOD, acrylic


def layer(outline: Outline, *, grain: float | None = 90.0) -> Layer:
    return Layer("part", acrylic("clear") if grain is None else WOOD, 5.0, outline, grain=grain or 0.0)


def test_a_hexagon_along_and_across_its_grain() -> None:
    # across flats a, across corners 2a/√3; the grain runs left to right, from corner to corner
    size = part_size(layer(Outline(Regular(6, 90.0))))
    assert (size.along, size.across) == pytest.approx((180.0 / math.sqrt(3.0), 90.0), rel=1e-12)
    size = part_size(layer(Outline(Regular(6, 90.0)), grain=0.0))
    assert (size.along, size.across) == pytest.approx((90.0, 180.0 / math.sqrt(3.0)), rel=1e-12)
    assert size.area == pytest.approx(90.0 * 180.0 / math.sqrt(3.0))


def test_a_slanting_grain_has_its_own_rectangle() -> None:
    # a rectangle a by b at 30° to its grain: a·cos + b·sin along it, a·sin + b·cos across
    size = part_size(layer(Outline(Rectangle(100.0, 40.0)), grain=60.0))
    cos, sin = math.cos(math.radians(30.0)), math.sin(math.radians(30.0))
    assert size.along == pytest.approx(100.0 * cos + 40.0 * sin, rel=1e-12)
    assert size.across == pytest.approx(100.0 * sin + 40.0 * cos, rel=1e-12)


def test_without_grain_the_smallest_rectangle_whichever_way_it_is_drawn() -> None:
    for turn in (0.0, 17.0, 90.0):
        size = part_size(layer(Outline(Rectangle(40.0, 100.0, 5.0), turn=turn, at=(9.0, 2.0)), grain=None))
        assert (size.along, size.across) == pytest.approx((100.0, 40.0), rel=1e-12)
    size = part_size(layer(Outline(Circle(70.0)), grain=None))
    assert (size.along, size.across) == pytest.approx((70.0, 70.0))


def test_copies_about_the_axis_are_measured_one_by_one(ell: Curve) -> None:
    part = layer(Outline(ell))
    assert part_size(replace(part, around=None)).area == pytest.approx(10_000.0)


def test_a_drawn_curve_is_told_as_exactly_as_it_is_drawn(ell: Curve) -> None:
    # 100.024 mm are no 3.94 in, as a picture may say
    outline = Outline(ell, grow=0.012, turn=30.0)
    assert exact_size(outline, units_of("mm")) == "100.02 mm × 100.02 mm over all"
    assert exact_size(outline, units_of("in")).startswith("3.938 in × 3.938 in")
