"""Where direct light strikes a plate."""

import numpy as np
import pytest

from stackview.description.material import Finish
from stackview.glow.lit_face import brightest, direct, faces_lit, feet_of, feet_pitch, towards_next
from tests.glow.plain_points import points_at
from tests.lamps import box, disc


def test_brightest_place_is_straight_before_a_light_point() -> None:
    plate = disc("plate", 50.0, 30.0, 34.0, "opal")
    _, under = faces_lit(plate, ())
    points = points_at(np.array([[7.0, -4.0, 0.0]]))
    place = brightest(under, points, np.ones(1))
    assert place == pytest.approx([7.0, -4.0, 30.0], abs=1e-6)
    # Lambertian 1 lm at 30 mm: I0/d² = 1/(π·900).
    assert direct(under, points, np.ones(1), place[None])[0, 0] == pytest.approx(1 / np.pi / 900.0, rel=1e-6)


def test_a_face_turned_away_gets_nothing() -> None:
    top, _ = faces_lit(disc("plate", 50.0, 30.0, 34.0, "opal"), ())
    assert brightest(top, points_at(np.array([[0.0, 0.0, 0.0]])), np.ones(1)) is None


@pytest.mark.parametrize(("body", "finish", "shades"), [
    ("opaque", Finish(), True), ("opal", Finish(), True),
    ("clear", Finish("sanded", "sanded", "clear"), True), ("clear", Finish(), False),
])  # fmt: skip
def test_what_stands_between_shades_unless_it_is_clear(body, finish, shades: bool) -> None:  # type: ignore[no-untyped-def]
    between = box("between", (-80, -80, 10), (80, 80, 14), body, finish)
    _, under = faces_lit(disc("plate", 50.0, 30.0, 34.0, "opal"), (between,))
    found = brightest(under, points_at(np.array([[0.0, 0.0, 0.0]])), np.ones(1))
    assert (found is None) == shades


def test_edge_of_the_shade_is_where_the_straight_line_meets() -> None:
    # A wall from x = 10 at height 15, half way: its shade begins at x = 20 on the plate at height 30.
    wall = box("wall", (10, -80, 14.999), (80, 80, 15), "opaque")
    _, under = faces_lit(disc("plate", 50.0, 30.0, 34.0, "opal"), (wall,))
    places = np.array([[19.9, 0.0, 30.0], [20.1, 0.0, 30.0]])
    light = direct(under, points_at(np.array([[0.0, 0.0, 0.0]])), np.ones(1), places)[0]
    assert light[0] > 0.0
    assert light[1] == 0.0


def test_light_beside_a_plate_strikes_its_face_at_the_best_angle() -> None:
    # Facing along the face at height h: E ∝ x·h/(x² + h²)², greatest at x = h/√3.
    plate = disc("plate", 90.0, -4.0, 0.0, "opal")
    top, _ = faces_lit(plate, ())
    place = brightest(top, points_at(np.array([[-40.0, 0.0, 12.0]]), (1.0, 0.0, 0.0)), np.ones(1))
    assert place[0] + 40.0 == pytest.approx(12.0 / np.sqrt(3.0), rel=0.15)


def test_feet_that_coincide_count_once() -> None:
    _, under = faces_lit(disc("plate", 50.0, 30.0, 34.0, "opal"), ())
    points = points_at(np.array([[0, 0, 0], [0, 0, 8], [10, 0, 0], [20, 0, 0]], float))
    feet = feet_of(under, points, np.arange(4))
    assert len(feet) == 3
    assert feet_pitch(feet) == pytest.approx(10.0)
    assert feet_pitch(feet[:1]) is None
    assert towards_next(feet, np.array([21.0, 0.0, 30.0])).tolist() == [-1.0, 0.0, 0.0]


def test_holds_only_where_there_is_plate() -> None:
    top, _ = faces_lit(box("plate", (-10, -10, 0), (10, 10, 4), "opal"), ())
    places = np.array([[0.0, 0.0, 4.0], [9.9, 9.9, 4.0], [10.1, 0.0, 4.0]])
    assert top.holds(places).tolist() == [True, True, False]
