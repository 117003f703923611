import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from stackview.curves.arcs import (
    Path,
    area,
    backwards,
    bounds,
    cos_sin,
    farthest,
    length,
    moved,
    pieces_between,
    pieces_of,
    polygon,
    turned,
    without_points,
)
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle, Rectangle, Regular

HALF_DISC = Path(np.array([(-10.0, 0.0, 0.0), (10.0, 0.0, 1.0)]))


def test_circle_area_and_length() -> None:
    circle = path_of(Outline(Circle(100.0)))
    assert area(circle) == pytest.approx(math.pi * 2500.0, rel=1e-14)
    assert length(circle) == pytest.approx(math.pi * 100.0, rel=1e-14)


def test_curves_of_the_same_numbers_are_one_value() -> None:
    again = Path(HALF_DISC.vertices.copy())
    assert again == HALF_DISC
    assert hash(again) == hash(HALF_DISC)
    assert pieces_of(again) is pieces_of(HALF_DISC), "what is kept of one serves the other"
    nearly = HALF_DISC.vertices.copy()
    nearly[0, 0] = np.nextafter(nearly[0, 0], 0.0)
    assert Path(nearly) != HALF_DISC
    assert HALF_DISC != "a curve"


def test_half_disc() -> None:
    assert area(HALF_DISC) == pytest.approx(50.0 * math.pi, rel=1e-14)
    assert length(HALF_DISC) == pytest.approx(20.0 + 10.0 * math.pi, rel=1e-14)


def test_rounded_rectangle_area() -> None:
    # Four corners each lose the square of the radius less its quarter disc.
    path = path_of(Outline(Rectangle(100.0, 60.0, 5.0), turn=30.0, at=(3.0, 4.0)))
    assert area(path) == pytest.approx(6000.0 - (4.0 - math.pi) * 25.0, rel=1e-13)
    assert length(path) == pytest.approx(2.0 * (90.0 + 50.0) + 10.0 * math.pi, rel=1e-13)


def test_arc_that_curves_inwards_takes_area_away() -> None:
    # A 40 mm square with a half disc of radius 10 mm cut into its right side.
    rows = [(0, 0, 0), (40, 0, 0), (40, 10, -1.0), (40, 30, 0), (40, 40, 0), (0, 40, 0)]
    path = Path(np.array(rows, dtype=float))
    disc = 50.0 * math.pi
    assert area(path) == pytest.approx(1600.0 - disc, rel=1e-14)


def test_bounds_reach_to_an_arcs_own_extreme() -> None:
    assert bounds(HALF_DISC) == pytest.approx((-10.0, 0.0, 10.0, 10.0), abs=1e-14)
    turned_quarter = turned(HALF_DISC, 90.0)
    assert bounds(turned_quarter) == pytest.approx((-10.0, -10.0, 0.0, 10.0), abs=1e-14)


@pytest.mark.parametrize("diameter", [3.0, 40.0, 120.0, 400.0])
@pytest.mark.parametrize("chord_error", [0.2, 0.05, 0.001])
def test_circle_facets(diameter: float, chord_error: float) -> None:
    facets = polygon(path_of(Outline(Circle(diameter))), chord_error)
    n, radius = len(facets), 0.5 * diameter
    assert n % 4 == 0
    assert np.allclose(np.hypot(*facets.T), radius, rtol=1e-14)
    # Sagitta of a facet that spans 2π/n: r(1 − cos(π/n)); one facet fewer a quarter would be too coarse.
    assert radius * (1.0 - math.cos(math.pi / n)) <= chord_error * (1.0 + 1e-9)
    assert n == 4 or radius * (1.0 - math.cos(math.pi / (n - 4))) > chord_error


def test_facets_are_symmetric_left_and_right() -> None:
    facets = polygon(path_of(Outline(Rectangle(90.0, 50.0, 7.0))), 0.05)
    mirrored = facets * np.array((-1.0, 1.0))
    gaps = np.abs(facets[:, None, :] - mirrored[None, :, :]).max(axis=2).min(axis=1)
    assert gaps.max() < 1e-12


@given(st.integers(3, 12), st.floats(20.0, 200.0), st.floats(0.5, 9.0), st.floats(0.005, 0.2))
def test_facets_lose_no_more_area_than_the_chord_error_allows(
    sides: int, across: float, radius: float, chord_error: float
) -> None:
    path = path_of(Outline(Regular(sides, across, radius)))
    facets = Polygon(polygon(path, chord_error))
    assert facets.is_valid
    # A facet of chord c cuts off at most 2/3·c·e (parabola in a chord), and c is at most the arc.
    lost = area(path) - facets.area
    assert -1e-9 <= lost <= 0.67 * chord_error * 2.0 * math.pi * radius + 1e-9


@given(st.floats(-720.0, 720.0), st.floats(-50.0, 50.0), st.floats(-50.0, 50.0))
def test_turning_and_moving_change_no_size(turn: float, x: float, y: float) -> None:
    path = moved(turned(HALF_DISC, turn), x, y)
    assert area(path) == pytest.approx(50.0 * math.pi, rel=1e-9)
    assert length(path) == pytest.approx(length(HALF_DISC), rel=1e-9)


@pytest.mark.parametrize("quarters", range(-5, 9))
def test_quarter_turns_are_exact(quarters: int) -> None:
    expected = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[quarters % 4]
    assert cos_sin(90.0 * quarters) == expected


def test_pieces_know_centre_and_radius() -> None:
    p = pieces_of(HALF_DISC)
    assert p.arc.tolist() == [False, True]
    assert p.radius[1] == pytest.approx(10.0)
    assert p.centre[1] == pytest.approx((0.0, 0.0), abs=1e-14)
    assert p.at(np.array([1]), np.array([0.5]))[0] == pytest.approx((0.0, 10.0), abs=1e-14)


def test_a_curve_of_many_short_arcs_gets_no_more_facets_than_it_needs() -> None:
    # A circle of radius 100 in 240 arcs: facets of sagitta 0.05 would be 2π/(2·acos(1 − 0.0005)) = 99.3.
    angle = np.radians(np.arange(0, 360, 1.5))
    bulge = np.full(len(angle), np.tan(np.radians(1.5) / 4))
    path = Path(np.column_stack((100 * np.cos(angle), 100 * np.sin(angle), bulge)))
    facets = polygon(path, 0.05)
    assert 99 <= len(facets) <= 160
    assert np.hypot(*facets.T) == pytest.approx(np.full(len(facets), 100.0), abs=1e-9)
    middles = (facets + np.roll(facets, -1, axis=0)) / 2
    assert np.hypot(*middles.T).min() >= 100 - 0.05


def test_a_curve_run_backwards_encloses_the_same_the_other_way() -> None:
    # a half disc of radius 5: the line first, then the arc
    half = Path(np.array([(-5.0, 0.0, 0.0), (5.0, 0.0, 1.0)]))
    back = backwards(half)
    assert area(half) == pytest.approx(12.5 * math.pi)
    assert area(back) == pytest.approx(-12.5 * math.pi)
    assert bounds(back) == bounds(half)
    assert (backwards(back).vertices == half.vertices).all()


def test_the_farthest_point_lies_on_an_arc_or_at_a_joint() -> None:
    half = Path(np.array([(-5.0, 0.0, 0.0), (5.0, 0.0, 1.0)]))
    assert farthest(half) == 5.0
    assert farthest(moved(half, 0.0, 2.0)) == 7.0
    # below its middle the arc is turned away: its ends are farthest
    assert farthest(moved(half, 0.0, -2.0)) == pytest.approx(math.hypot(5.0, 2.0))


def test_pieces_shorter_than_asked_are_left_out() -> None:
    rows = np.array([(0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0), (0.0, 1e-7, 0.0)])
    assert len(without_points(rows, 1e-6)) == 3
    assert len(without_points(rows)) == 4


@given(st.floats(0.05, 1.5), st.floats(-math.pi, math.pi))
def test_arcs_keep_to_their_circle(bulge: float, bearing: float) -> None:
    start = np.array([[2.0, 1.0]])
    end = start + 3.0 * np.array([[math.cos(bearing), math.sin(bearing)]])
    p = pieces_between(start, end, np.array([bulge]))
    # a positive bulge lies to the right of its chord, by bulge · chord / 2
    chord = (end - start)[0]
    middle = (start + end)[0] / 2 + 0.5 * bulge * np.array((chord[1], -chord[0]))
    assert p.at(np.array([0]), np.array([0.5]))[0] == pytest.approx(middle)
    for point in (start[0], end[0], middle):
        assert np.hypot(*(point - p.centre[0])) == pytest.approx(p.radius[0])
