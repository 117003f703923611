"""Parts as they lie: grain, turns, faces, waste."""

import numpy as np
import pytest
import shapely

from stackview.curves.arcs import area, bounds, polygon
from stackview.description.lamp import Layer, Opening
from stackview.description.material import Material
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle, Rectangle, Regular
from stackview.sheets.pieces import flat_shape, line_on_sheet, on_sheet, outline_middle, sheet_part
from stackview.shop.copies import cut_parts, parts_of_layers
from tests.sheets.flat_lamps import moth
from tests.shop.parts import WOOD

CLEAR = Material("clear", "acrylic", "clear", "clear", 1190.0, (1.0, 1.0, 1.0))


def part_of(shape, material=CLEAR, **more):
    (part,) = parts_of_layers([Layer("one", material, 5.0, Outline(shape), **more)])
    return sheet_part(1, part)


@pytest.mark.parametrize(
    ("shape", "turns"),
    [
        (Circle(80.0), 1),
        (Rectangle(80.0, 80.0), 1),
        (Rectangle(80.0, 50.0), 2),
        (Regular(6, 80.0), 2),
        (Regular(3, 80.0), 4),
    ],
)
def test_turns_that_change_nothing_are_left_out(shape, turns: int) -> None:
    assert len(flat_shape(part_of(shape), 4.0).turns) == turns


@pytest.mark.parametrize("grain", [0.0, 90.0, 30.0])
def test_with_a_grain_it_lies_along_x(grain: float) -> None:
    part = part_of(Regular(3, 80.0), WOOD, grain=grain)
    turns = flat_shape(part, 4.0).turns
    # along x is bearing 90, either way
    assert [(grain + turn) % 180.0 for turn in turns] == [90.0, 90.0]
    assert len(set(turns)) == 2


def test_what_is_worked_from_below_alone_lies_with_its_underside_up() -> None:
    parts = {part.name: sheet_part(1, part) for part in cut_parts(moth())}
    assert [name for name, part in parts.items() if part.underside_up] == ["top"]
    top = parts["top"]
    (cut,) = (one for one in top.layer.recesses)
    # its pocket lies 20 mm to the right; seen from below 20 mm to the left
    x0, _, x1, _ = bounds(on_sheet(top, path_of(cut.outline), 0.0, 100.0, 50.0))
    assert (x0 + x1) / 2 == pytest.approx(80.0)
    ring = parts["ring"]
    assert (ring.grain, top.grain, parts["plate"].grain) == (0.0, 90.0, None)


def test_areas_and_the_middle_in_closed_form() -> None:
    hole = Opening(Outline(Circle(30.0), at=(5.0, 0.0)), main=True)
    part = part_of(Rectangle(80.0, 50.0), openings=(hole,))
    assert part.net_area == pytest.approx(4000.0 - np.pi * 225.0, rel=1e-12)
    assert outline_middle(part) == pytest.approx((0.0, 0.0), abs=1e-9)
    shape = flat_shape(part, 4.0)
    assert shape.area == part.net_area
    (waste,) = shape.wastes
    assert shapely.Polygon(waste).area == pytest.approx(np.pi * 225.0, rel=2e-3)
    # a hole that a gap fills is no room, and neither are holes that run into each other
    assert flat_shape(part, 16.0).wastes == ()
    twice = (hole, Opening(Outline(Circle(30.0), at=(-20.0, 0.0))))
    assert flat_shape(part_of(Rectangle(80.0, 50.0), openings=twice), 4.0).wastes == ()


def test_a_part_is_no_larger_or_smaller_where_it_lies() -> None:
    part = part_of(Regular(5, 60.0))
    assert area(on_sheet(part, part.outline, 33.0, 7.0, 9.0)) == pytest.approx(area(part.outline), rel=1e-12)


def test_index_marks_lie_where_the_part_does() -> None:
    """A mark on the edge stays on the edge, turned, moved and turned over with the part."""
    parts = {part.name: part for part in cut_parts(moth())}
    for name, edge in (("base", (0.0, -55.0)), ("top", (60.0, 0.0))):
        line = np.array((edge, (0.9 * edge[0], 0.9 * edge[1])))
        part = sheet_part(1, parts[name], (line,))
        start, end = line_on_sheet(part, line, 33.0, 200.0, 100.0)
        outline = shapely.LinearRing(
            polygon(on_sheet(part, path_of(part.layer.outline), 33.0, 200.0, 100.0), 1e-3)
        )
        assert outline.distance(shapely.Point(start)) < 1e-9
        assert np.hypot(*(end - (200.0, 100.0))) == pytest.approx(0.9 * np.hypot(*edge))
