import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from stackview.curves.arcs import area, bounds, pieces_of
from stackview.description.outline import Around, Outline, around, path_of
from stackview.description.shapes import Circle, Curve, Rectangle, Regular
from stackview.errors import SolidError


def test_circle_grows_by_its_radius() -> None:
    assert area(path_of(Outline(Circle(50.0), grow=2.0))) == pytest.approx(math.pi * 27.0**2, rel=1e-14)


@pytest.mark.parametrize(
    ("sides", "expected"), [(6, 6495.190528), (8, 7071.067812), (12, 7500.0)]
)  # CRC Standard Mathematical Tables: ½nR²·sin(2π/n), R 50
def test_regular_area(sides: int, expected: float) -> None:
    path = path_of(Outline(Regular(sides, 100.0 * math.cos(math.pi / sides))))
    assert area(path) == pytest.approx(expected, rel=1e-9)


def test_hexagon_inset() -> None:
    # CRC: A − Pd + d²·n·tan(π/n); hexagon R 50, d 3.
    path = path_of(Outline(Regular(6, 100.0 * math.cos(math.pi / 6)), grow=-3.0))
    assert area(path) == pytest.approx(5626.367443, rel=1e-9)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 7, 8])
def test_regular_has_a_flat_square_to_the_front(sides: int) -> None:
    path = path_of(Outline(Regular(sides, 40.0)))
    front = path.vertices[np.abs(path.vertices[:, 1] + 20.0) < 1e-9]
    assert len(front) == 2
    assert front[:, 0].sum() == pytest.approx(0.0, abs=1e-12)
    assert bounds(path)[1] == pytest.approx(-20.0)


def test_growing_keeps_sharp_corners_sharp() -> None:
    path = path_of(Outline(Rectangle(40.0, 20.0), grow=5.0))
    assert path.vertices.tolist() == [[25, -15, 0], [25, 15, 0], [-25, 15, 0], [-25, -15, 0]]


def test_growing_changes_the_corner_radius() -> None:
    radii = pieces_of(path_of(Outline(Rectangle(40.0, 20.0, 3.0), grow=5.0))).radius
    assert np.unique(np.round(radii, 9)).tolist() == [0.0, 8.0]
    sharp = path_of(Outline(Rectangle(40.0, 20.0, 3.0), grow=-4.0))
    assert len(sharp) == 4
    assert area(sharp) == pytest.approx(32.0 * 12.0)


def test_cutter_leaves_its_radius() -> None:
    # A corner fillet of radius r takes r²(1 − π/4) off.
    pocket = path_of(Outline(Rectangle(40.0, 20.0), cutter_radius=3.0))
    assert area(pocket) == pytest.approx(800.0 - 4.0 * 9.0 * (1.0 - math.pi / 4.0), rel=1e-13)
    wide = path_of(Outline(Rectangle(40.0, 20.0, 5.0), cutter_radius=3.0))
    assert pieces_of(wide).radius.max() == pytest.approx(5.0)


def test_turn_then_place() -> None:
    path = path_of(Outline(Rectangle(40.0, 20.0), turn=90.0, at=(100.0, 50.0)))
    assert bounds(path) == (90.0, 30.0, 110.0, 70.0)


def test_curve_is_taken_as_drawn(ell: Curve) -> None:
    path = path_of(Outline(ell))
    assert area(path) == pytest.approx(6400.0)
    # Two 100 × 40 and 40 × 60 rectangles: x = (4000·50 + 2400·20)/6400.
    middle = shapely.Polygon(path.vertices[:, :2]).centroid
    assert (middle.x, middle.y) == pytest.approx((38.75, 38.75))


def test_copies_stand_on_their_bearings() -> None:
    # Bearing b is the direction (sin b, −cos b): 0° front (−y), 90° right (+x).
    pins = around(path_of(Outline(Circle(4.0))), Around(4, 100.0, 90.0))
    centres = np.array([bounds(pin) for pin in pins]).reshape(-1, 2, 2).mean(axis=1)
    assert centres == pytest.approx(np.array([(50, 0), (0, 50), (-50, 0), (0, -50)], dtype=float), abs=1e-12)


def test_copies_turn_with_their_bearing() -> None:
    wide, turned = (
        around(path_of(Outline(Rectangle(20.0, 6.0))), Around(2, 100.0, 0.0))[0],
        around(path_of(Outline(Rectangle(20.0, 6.0))), Around(4, 100.0, 0.0))[1],
    )
    assert bounds(wide) == pytest.approx((-10.0, -53.0, 10.0, -47.0))
    assert bounds(turned) == pytest.approx((47.0, -10.0, 53.0, 10.0))


@pytest.mark.parametrize(
    ("outline", "message"),
    [
        (
            Outline(Circle(50.0), grow=-25.0),
            "leaves nothing of a circle of diameter 50 mm: it must stay under 25 mm",
        ),
        (
            Outline(Rectangle(50.0, 30.0), grow=-15.0),
            "leaves nothing of a rectangle of 50 mm × 30 mm.*under 15 mm",
        ),
        (Outline(Regular(6, 40.0), grow=-21.0), "leaves nothing of a 6-sided shape.*under 20 mm"),
        (Outline(Circle(4.0), cutter_radius=3.0), "diameter 4 mm is smaller than the cutter of radius 3 mm"),
        (
            Outline(Rectangle(50.0, 4.0), cutter_radius=3.0),
            "too small for a cutter of radius 3 mm.*radius 2.0000 mm at most",
        ),
        (Outline(Regular(5, 4.0), cutter_radius=3.0), "too small for a cutter of radius 3 mm"),
        (Outline(Rectangle(50.0, 30.0, 16.0)), "corner radius of 16 mm is too large.*15.0000 mm is the most"),
        (Outline(Regular(6, 40.0, 20.5)), "corner radius of 20.5 mm is too large"),
    ],
)
def test_messages(outline: Outline, message: str) -> None:
    with pytest.raises(SolidError, match=message) as caught:
        path_of(outline, "recess")
    assert caught.value.field == "recess"


def test_crossing_curve_is_refused() -> None:
    eight = Curve(((0, 0, 0), (10, 10, 0), (10, 0, 0), (0, 10, 0)), "eight.svg")
    with pytest.raises(SolidError, match=r"eight.svg crosses itself near \(5.00, 5.00\)"):
        path_of(Outline(eight))


def test_clockwise_curve_is_refused() -> None:
    clockwise = Curve(((0, 0, 0), (0, 10, 0), (10, 10, 0), (10, 0, 0)), "back.svg")
    with pytest.raises(SolidError, match=r"back.svg encloses nothing.*counter-clockwise"):
        path_of(Outline(clockwise))


def test_curve_that_is_no_loop_is_refused() -> None:
    with pytest.raises(SolidError, match="encloses nothing"):
        path_of(Outline(Curve(((3.0, 3.0, 0.0), (3.0, 3.0, 0.0)), "dot.dxf")))


def test_repeated_last_point_is_left_out() -> None:
    closed = Curve(((0, 0, 0), (10, 0, 0), (10, 10, 0), (0, 10, 0), (0, 0, 0)), "closed.dxf")
    assert len(path_of(Outline(closed))) == 4


SMALL = st.integers(-1000, 1000).map(lambda eighths: eighths / 8)
"""Exact in binary, so that sums do not depend on their order."""
PLATE = Outline(Rectangle(150.0, 90.0, 12.0), grow=-2.0, turn=5.0, at=(3.0, 4.0), cutter_radius=1.5)


@given(SMALL, SMALL)
def test_growing_twice_is_growing_by_both(one: float, other: float) -> None:
    assert PLATE.grown(one).grown(other) == PLATE.grown(one + other)
    assert PLATE.grown(one).grown(-one) == PLATE


@given(SMALL, SMALL)
def test_turning_and_growing_do_not_mind_each_other(by: float, grow: float) -> None:
    assert PLATE.turned(by).grown(grow) == PLATE.grown(grow).turned(by)
    assert PLATE.turned(by).turned(-by) == PLATE


def test_only_what_is_asked_changes() -> None:
    assert PLATE.grown(1.5) == replace(PLATE, grow=-0.5)
    assert PLATE.turned(90.0) == replace(PLATE, turn=95.0)
    assert (PLATE.grow, PLATE.turn) == (-2.0, 5.0)


def test_equal_outlines_are_one_key() -> None:
    # Solids are kept by value.
    assert hash(Outline(Circle(80.0)).grown(1.0)) == hash(Outline(Circle(80.0), grow=1.0))
