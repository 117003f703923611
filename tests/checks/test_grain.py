"""Short grain: the wall's width where the grain runs across it."""

from dataclasses import replace

import pytest

from stackview.checks.grain import short_grain, thinnest_across
from stackview.description.lamp import Layer, Opening
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Rectangle
from tests.checks.subjects import ASH, subject_of


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
    assert "1 mm wider" in found.advice
    assert short_grain(subject_of(layer), replace(layer, grain=0.0)) == []


def test_plywood_has_no_short_grain() -> None:
    layer = replace(frame(5.0, 12.0, 90.0), material=replace(ASH, kind="plywood"))
    assert short_grain(subject_of(layer), layer) == []
