import math
import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from stackview.curves.arcs import Path, pieces_between, pieces_of, polygon
from stackview.curves.fit import distances, gap, inside, lies_inside, overlapping, reach_outside, room_inside
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Circle, Curve, Rectangle, Regular


def circle(diameter: float, x: float = 0.0, y: float = 0.0) -> Path:
    return path_of(Outline(Circle(diameter), at=(x, y)))


@pytest.mark.parametrize(("clearance", "corner"), [(0.0, 3.0), (0.2, 2.317157), (0.5, 1.292893)])
def test_square_corner_in_pocket(clearance: float, corner: float) -> None:
    # A plate corner needs q ≥ r − 3.414214·c in a pocket left by a cutter of radius r (plane geometry); r 3.
    pocket = path_of(Outline(Rectangle(100.0, 60.0), grow=clearance, cutter_radius=3.0))
    assert inside(path_of(Outline(Rectangle(100.0, 60.0, corner + 1e-6))), pocket).fits
    tight = inside(path_of(Outline(Rectangle(100.0, 60.0, corner - 2e-6))), pocket)
    assert not tight.fits
    assert 0.0 < tight.by < 2e-6


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8, 12])
@pytest.mark.parametrize("cutter", [0.5, 3.0])
def test_sharp_corner_needs_clearance(sides: int, cutter: float) -> None:
    # A corner of angle θ seats with c ≥ r(1 − sin(θ/2)) (plane geometry; 0.292893·r at 90°).
    theta = math.pi - 2.0 * math.pi / sides
    needed = cutter * (1.0 - math.sin(0.5 * theta))
    plate = path_of(Outline(Regular(sides, 80.0)))

    def pocket(clearance: float) -> Path:
        return path_of(Outline(Regular(sides, 80.0), grow=clearance, cutter_radius=cutter))

    assert inside(plate, pocket(needed)).fits
    assert inside(plate, pocket(needed + 1e-6)).fits
    assert not inside(plate, pocket(needed - 1e-6)).fits


def test_protrusion_into_a_fillet_is_the_diagonal() -> None:
    # A sharp 90° corner in a pocket with no clearance reaches r(√2 − 1) into the fillet.
    pocket = path_of(Outline(Rectangle(100.0, 60.0), cutter_radius=3.0))
    fit = inside(path_of(Outline(Rectangle(100.0, 60.0))), pocket)
    assert fit.by == pytest.approx(3.0 * (math.sqrt(2.0) - 1.0), abs=1e-9)
    assert (abs(fit.at[0]), abs(fit.at[1])) == pytest.approx((50.0, 30.0))


def test_circle_in_circle() -> None:
    fit = inside(circle(80.0), circle(100.0))
    assert fit.fits
    assert fit.by == pytest.approx(-10.0, abs=1e-12)
    aside = inside(circle(80.0, 11.0), circle(100.0))
    assert not aside.fits
    assert aside.by == pytest.approx(1.0, abs=1e-9)
    assert aside.at == pytest.approx((51.0, 0.0), abs=1e-4)


def test_touching_fits() -> None:
    assert inside(circle(80.0), circle(80.0)).fits
    assert inside(circle(80.0, 10.0), circle(100.0)).fits
    same = path_of(Outline(Rectangle(90.0, 70.0, 6.0), turn=17.0, at=(3.0, -8.0)))
    again = path_of(Outline(Rectangle(90.0, 70.0, 6.0), turn=17.0, at=(3.0, -8.0)))
    assert inside(same, again).fits
    assert inside(same, again).by == pytest.approx(0.0, abs=1e-12)


def test_circle_in_square_touches_at_four_points() -> None:
    assert inside(circle(60.0), path_of(Outline(Rectangle(60.0, 60.0)))).fits
    fit = inside(circle(60.0 + 2e-6), path_of(Outline(Rectangle(60.0, 60.0))))
    assert not fit.fits
    assert fit.by == pytest.approx(1e-6, rel=1e-6)


def test_square_in_circle_reaches_out_at_its_corners() -> None:
    fit = inside(path_of(Outline(Rectangle(60.0, 60.0))), circle(80.0))
    assert fit.by == pytest.approx(30.0 * math.sqrt(2.0) - 40.0, abs=1e-12)


def test_concave_outline(ell: Curve) -> None:
    outer = path_of(Outline(ell))
    assert inside(circle(39.0, 20.0, 20.0), outer).by == pytest.approx(-0.5)
    # A disc over the corner that sticks in reaches out farthest on the diagonal, level with both sides.
    fit = inside(circle(20.0, 50.0, 50.0), outer)
    assert not fit.fits
    assert fit.by == pytest.approx(10.0 + 10.0 / math.sqrt(2.0), abs=1e-9)
    tip = inside(circle(20.0, 33.0, 33.0), outer)
    assert not tip.fits
    # On the diagonal it reaches 33 + 10/√2, past both sides at 40.
    assert tip.by == pytest.approx(10.0 / math.sqrt(2.0) - 7.0, abs=1e-9)


def test_clearance_to_a_corner_that_sticks_in(ell: Curve) -> None:
    outer = path_of(Outline(ell))
    fit = inside(circle(20.0, 28.0, 28.0), outer)
    # To the tip (40, 40): 12√2 − 10; to the sides: 18.
    assert fit.by == pytest.approx(10.0 - 12.0 * math.sqrt(2.0), abs=1e-12)


def test_apart_and_around() -> None:
    assert not inside(circle(10.0, 100.0), circle(50.0)).fits
    assert inside(circle(10.0, 100.0), circle(50.0)).by == pytest.approx(80.0)
    assert not inside(circle(50.0), circle(10.0)).fits
    assert not lies_inside(circle(50.0), circle(10.0))


def test_overlapping() -> None:
    assert overlapping(circle(10.0), circle(10.0, 9.9))
    assert not overlapping(circle(10.0), circle(10.0, 10.0))
    assert not overlapping(circle(10.0), circle(10.0, 10.1))
    assert overlapping(circle(10.0), circle(10.0, 10.1), -0.2)
    assert overlapping(circle(10.0), circle(50.0))
    assert overlapping(circle(50.0), circle(10.0))
    assert overlapping(circle(50.0), circle(50.0))
    cross = path_of(Outline(Rectangle(100.0, 4.0))), path_of(Outline(Rectangle(4.0, 100.0)))
    assert overlapping(*cross)


def test_distance_is_exact_beside_and_beyond_an_arc() -> None:
    half = Path(np.array([(-10.0, 0.0, 0.0), (10.0, 0.0, 1.0)]))
    points = np.array([(0.0, 3.0), (0.0, 13.0), (14.0, -3.0), (0.0, -2.0), (4.0, 9.0)])
    expected = [-3.0, 3.0, 5.0, 2.0, math.hypot(4.0, 9.0) - 10.0]
    assert reach_outside(points, pieces_of(half)) == pytest.approx(expected, abs=1e-12)


def test_points_on_chords_and_level_with_joints_are_told_right() -> None:
    # The chord polygon of a circle's quarters is a diamond; points on its sides are inside the circle.
    p = pieces_of(circle(20.0))
    on_chords = np.array([(5.0, 5.0), (-5.0, 5.0), (-2.5, -7.5), (0.0, 0.0), (9.0, 0.0), (-9.0, 0.0)])
    assert (reach_outside(on_chords, p) < 0.0).all()
    level = np.array([(-11.0, 0.0), (11.0, 0.0), (-11.0, 10.0), (-11.0, -10.0)])
    assert (reach_outside(level, p) > 0.0).all()


def test_room_inside_never_promises_too_much() -> None:
    outer = path_of(Outline(Rectangle(90.0, 70.0, 6.0)))
    for x in (0.0, 20.0, 35.0):
        inner = circle(10.0, x)
        assert room_inside(inner, outer) <= -inside(inner, outer).by + 1e-12


def test_long_curve_in_long_curve_is_quick() -> None:
    def wavy(size: float) -> Path:
        angle = np.linspace(0.0, 2.0 * math.pi, 240, endpoint=False)
        radius = size * (1.0 + 0.1 * np.cos(7.0 * angle))
        return Path(np.column_stack((radius * np.cos(angle), radius * np.sin(angle), np.zeros(240))))

    started = time.perf_counter()
    assert inside(wavy(50.0), wavy(50.5)).fits
    assert time.perf_counter() - started < 2.0


shapes = st.one_of(
    st.builds(Circle, st.floats(10.0, 60.0)),
    st.builds(Rectangle, st.floats(20.0, 60.0), st.floats(20.0, 60.0), st.floats(0.0, 9.0)),
    st.builds(Regular, st.integers(3, 9), st.floats(20.0, 60.0), st.floats(0.0, 9.0)),
)


@settings(max_examples=60, deadline=None)
@given(shapes, shapes, st.floats(-20.0, 20.0), st.floats(-20.0, 20.0), st.floats(0.0, 360.0))
def test_agrees_with_fine_facets(a: object, b: object, x: float, y: float, turn: float) -> None:
    inner, outer = path_of(Outline(a, turn=turn, at=(x, y))), path_of(Outline(b))
    fit = inside(inner, outer)
    fine_a, fine_b = polygon(inner, 1e-4), Polygon(polygon(outer, 1e-4))
    rim = LineString([*fine_a, fine_a[0]])
    if fit.fits:
        assert fine_b.buffer(2e-4).contains(Polygon(fine_a))
        assert -fit.by == pytest.approx(rim.distance(fine_b.exterior), abs=3e-4)
    else:
        assert fine_b.buffer(fit.by + 6e-4, quad_segs=400).contains(rim)
        if fit.by > 2e-3:
            assert not fine_b.buffer(fit.by - 1e-3, quad_segs=200).contains(rim)
    assert lies_inside(inner, outer) == fit.fits
    shared = Polygon(fine_a).intersection(fine_b).area
    if shared > 1.0:
        assert overlapping(inner, outer)
    if shared == 0.0:
        assert not overlapping(inner, outer, 1e-3)


@settings(max_examples=40, deadline=None)
@given(shapes, st.floats(0.001, 5.0), st.floats(0.0, 360.0))
def test_a_shape_fits_in_itself_grown_by_exactly_that(shape: object, by: float, turn: float) -> None:
    plate, pocket = path_of(Outline(shape, turn=turn)), path_of(Outline(shape, grow=by, turn=turn))
    assert inside(plate, pocket).by == pytest.approx(-by, abs=1e-9)
    assert inside(pocket, plate).by >= by - 1e-9


def test_gap_of_circles_beside_and_within_each_other() -> None:
    # Distance of the centres less both radii; the difference of the radii less the distance of the centres.
    assert gap(circle(12.0, -10.0), circle(18.0, 10.0)).by == pytest.approx(5.0, abs=1e-12)
    assert gap(circle(10.0, 3.0), circle(40.0)).by == pytest.approx(12.0, abs=1e-12)
    assert gap(circle(40.0), circle(10.0, 3.0)).by == pytest.approx(12.0, abs=1e-12)


def test_gap_of_squares_corner_to_corner_and_side_to_side() -> None:
    square = path_of(Outline(Rectangle(10.0, 10.0)))
    assert gap(square, path_of(Outline(Rectangle(10.0, 10.0), at=(13.0, 14.0)))).by == pytest.approx(5.0)
    beside = gap(square, path_of(Outline(Rectangle(10.0, 4.0), at=(12.0, 1.0))))
    assert beside.by == pytest.approx(2.0)
    assert abs(beside.at[0] - 6.0) == pytest.approx(1.0)


def test_gap_of_a_corner_that_points_at_a_side() -> None:
    # Half the diagonal of the turned square is 5√2.
    turned_square = path_of(Outline(Rectangle(10.0, 10.0), turn=45.0, at=(20.0, 0.0)))
    found = gap(path_of(Outline(Rectangle(10.0, 30.0))), turned_square)
    assert found.by == pytest.approx(15.0 - 5.0 * math.sqrt(2.0))


def test_curves_that_cross_have_no_gap() -> None:
    assert gap(circle(20.0), circle(20.0, 10.0)).by == pytest.approx(0.0, abs=1e-9)


@settings(max_examples=50, deadline=None)
@given(
    x=st.floats(25.0, 60.0),
    y=st.floats(-60.0, 60.0),
    turn=st.floats(0.0, 90.0),
    corner=st.floats(0.0, 5.0),
)
def test_gap_against_shapely(x: float, y: float, turn: float, corner: float) -> None:
    one = path_of(Outline(Rectangle(30.0, 20.0, corner)))
    other = path_of(Outline(Regular(5, 12.0, min(corner, 3.0)), turn=turn, at=(x, y)))
    reference = Polygon(polygon(one, 1e-5)).exterior.distance(Polygon(polygon(other, 1e-5)).exterior)
    assert gap(one, other).by == pytest.approx(reference, abs=5e-5)


def test_distance_to_an_arc_beyond_its_ends() -> None:
    # a half circle below the chord; from above the chord its ends are nearest
    half = pieces_between(np.array([[-1.0, 0.0]]), np.array([[1.0, 0.0]]), np.array([1.0]))
    away = distances(np.array([(0.0, 1.0), (0.0, -3.0)]), half)
    assert away == pytest.approx((math.sqrt(2), 2))
