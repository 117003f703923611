"""The frame of a section: one scale both ways, the lamp wholly inside, and words for ways round it."""

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from stackview.drawings.chart_style import blank
from stackview.drawings.section_frame import View, far, frame_side, lines_of, view_of_lamp, way_round
from stackview.stack.section import section
from tests import lamps as plain
from tests.drawings.drawn import studied

VIEW = View((100.0, 50.0, 700.0, 450.0), 2.0, (300.0, 100.0))


def test_places_fall_at_one_scale_both_ways() -> None:
    assert VIEW.at(10.0, 20.0) == (320.0, 140.0)
    assert VIEW.onto(np.array([[10.0, 20.0]])) == pytest.approx(np.array([[320.0, 140.0]]))


@pytest.mark.parametrize(("wide", "tall"), [(50.0, 400.0), (300.0, 20.0), (80.0, 80.0)])
def test_the_lamp_lies_in_the_frame_and_takes_no_more_than_its_share(wide: float, tall: float) -> None:
    block = plain.box("block", (-wide, -wide, 0), (wide, wide, tall))
    _, stack = studied((block,), plain.light_points([], []))
    view = view_of_lamp(blank((1000, 800)), stack, section(stack, 0.0), [], 700.0, 100.0, 0.6)
    left, low, right, high = view.frame
    (x, y), (x_on, y_on) = view.at(-wide, 0.0), view.at(wide, tall)
    assert left < x < x_on < right
    assert low < y < y_on < high
    assert x_on - x <= 0.6 * (right - left) + 1e-6


@pytest.mark.parametrize(
    ("at", "side"), [((700.0, 200.0), "right"), ((400.0, 450.0), "top"), ((400.0, 50.0), "bottom")]
)
def test_a_place_on_the_frame_knows_its_side(at: tuple[float, float], side: str) -> None:
    assert frame_side(VIEW, at) == side


def test_far_places_are_outside_the_frame_at_their_elevation() -> None:
    x, y = far(VIEW, (300.0, 100.0), 30.0)
    assert x > 700.0
    assert np.degrees(np.arctan2(y - 100.0, x - 300.0)) == pytest.approx(30.0)


def test_a_line_through_two_pieces_is_two_lines() -> None:
    pieces = Polygon([(0, 0), (1, 0), (1, 1), (0, 1)]).union(Polygon([(2, 0), (3, 0), (3, 1), (2, 1)]))
    assert len(lines_of(LineString([(-1, 0.5), (4, 0.5)]).intersection(pieces))) == 2
    assert lines_of(LineString()) == []


def test_ways_round_are_named_counter_clockwise_from_the_front() -> None:
    ways = ["front", "right", "back", "left", "front", "front right"]
    assert [way_round(bearing) for bearing in (0.0, 90.0, 180.0, 270.0, 350.0, 30.0)] == ways
