"""What the lamp stands on: hides by similar triangles, within its extent, and only from above."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.lamp import Surface
from stackview.sight.surface import behind_surface, clear_of_surface, edge_distance, hidden_heights

POINT = np.array([0.0, 0.0, 100.0])


def hidden(eye: tuple[float, float, float], surface: Surface | None, place: np.ndarray = POINT) -> bool:
    return bool(behind_surface(place, np.array(eye, float), surface))


def test_no_surface_hides_nothing() -> None:
    assert not hidden((1000.0, 0.0, -500.0), None)
    many = behind_surface(np.zeros((5, 1, 3)), np.zeros((1, 7, 3)), None)
    assert many.shape == (5, 7)
    assert not many.any()


@pytest.mark.parametrize(("x", "blocked"), [(499.0, True), (501.0, False)])
def test_a_line_meets_the_plane_where_similar_triangles_say(x: float, blocked: bool) -> None:
    # From 100 mm above to 100 mm below, the line is half-way across at the plane.
    table = Surface(740.0, (500.0, 300.0))
    assert hidden((x, 0.0, -100.0), table) is blocked
    assert hidden((-x, 0.0, -100.0), table) is blocked


def test_a_round_top_ends_at_its_radius() -> None:
    top = Surface(740.0, (500.0,))
    for bearing in np.radians([0.0, 33.0, 90.0, 200.0]):
        way = np.array([np.sin(bearing), -np.cos(bearing)])
        assert hidden((*(499.0 * way), -100.0), top)
        assert not hidden((*(501.0 * way), -100.0), top)


def test_the_lamp_may_stand_off_its_middle() -> None:
    # The axis stands 200 mm right of the middle: 50 mm are left on that side, 450 mm on the other.
    table = Surface(740.0, (500.0, 300.0), at=(200.0, 0.0))
    assert hidden((99.0, 0.0, -100.0), table)
    assert not hidden((101.0, 0.0, -100.0), table)
    assert hidden((-899.0, 0.0, -100.0), table)
    assert not hidden((-901.0, 0.0, -100.0), table)


@given(st.floats(0.0, 5000.0), st.floats(-5000.0, 5000.0), st.floats(-5000.0, 5000.0))
def test_an_eye_level_with_it_or_above_is_never_hidden(height: float, x: float, y: float) -> None:
    assert not hidden((x, y, height), Surface(740.0, (1e5, 1e5)))


@given(st.floats(1.0, 500.0), st.floats(-500.0, -1.0), st.floats(-400.0, 400.0), st.floats(-400.0, 400.0))
def test_a_surface_without_end_hides_everything_below(up: float, down: float, x: float, y: float) -> None:
    assert hidden((x, y, down), Surface(740.0, (1e7, 1e7)), np.array([0.0, 0.0, up]))


@pytest.mark.parametrize(
    "surface",
    [
        Surface(700.0, (1200.0, 300.0), (50.0, -20.0)),
        Surface(700.0, (500.0,)),
        Surface(7.0, (90.0, 60.0), (-40.0, 20.0)),
    ],
)
def test_hidden_heights_are_those_at_which_an_eye_is_behind_the_surface(surface: Surface) -> None:
    rng = np.random.default_rng(7)
    places = np.stack([*rng.uniform(-200.0, 200.0, (2, 4000)), rng.uniform(1.0, 200.0, 4000)], axis=1)
    eyes = np.stack([*rng.uniform(-1500.0, 1500.0, (2, 4000)), rng.uniform(-700.0, 900.0, 4000)], axis=1)
    x, y, z = places.T
    low, high = hidden_heights((x, y, z), eyes[:, 0], eyes[:, 1], surface)
    within = (low <= eyes[:, 2]) & (eyes[:, 2] <= high) & (eyes[:, 2] < 0.0)
    behind = behind_surface(places, eyes, surface)
    assert behind.sum() > 20
    assert np.array_equal(within, behind)


def test_a_stretch_is_cut_where_the_surface_hides_its_middle() -> None:
    hidden = np.array([-50.0, np.inf]), np.array([-20.0, -np.inf])
    number, low, high = clear_of_surface(np.full(2, -100.0), np.full(2, 10.0), hidden)
    assert list(zip(number.tolist(), low.tolist(), high.tolist(), strict=True)) == [
        (0, -20.0, 10.0),
        (1, -100.0, 10.0),
        (0, -100.0, -50.0),
    ]


def test_a_level_way_leaves_a_round_and_a_square_surface() -> None:
    places = np.column_stack([[0.0, 30.0, 90.0], np.zeros(3)])
    left, right = np.full(3, -np.pi / 2.0), np.full(3, np.pi / 2.0)
    # the axis stands 10 to the right of its middle
    for surface in (Surface(740.0, (160.0,), (10.0, 0.0)), Surface(740.0, (160.0, 60.0), (10.0, 0.0))):
        assert edge_distance(surface, places, right).tolist() == pytest.approx([70.0, 40.0, 0.0])
        assert edge_distance(surface, places, left).tolist() == pytest.approx([90.0, 120.0, 0.0])
