"""The fan of rays: all light that gets through, and where its images end, against solid geometry."""

import numpy as np
import pytest

from stackview.sight.clear_bodies import clear_bodies
from stackview.sight.fan import LEAST_IMAGE, Triangles, directions_at, fan
from stackview.sight.scene import scene_of
from stackview.stack.placed import Placed
from tests.lamps import box

RIGHT = np.array([[1.0, 0.0, 0.0]])
SQUARE_DEGREE = np.radians(1.0) ** 2


def found_of(parts: tuple[Placed, ...], place, front=RIGHT) -> Triangles:  # type: ignore[no-untyped-def]
    bodies = clear_bodies(scene_of(parts))
    assert bodies is not None
    return fan(bodies, np.array(place, float).reshape(1, 3), np.asarray(front))


def square_angle(half: float, away: float) -> float:
    """Solid angle of a square of half-width ``half`` seen square on from ``away`` [sr].

    Ω = 4·asin(a²/(a² + d²)), plane geometry (a pyramid of four right faces).
    """
    return float(4.0 * np.arcsin(half**2 / (half**2 + away**2)))


@pytest.mark.parametrize("half", [5.0, 10.0, 40.0])
def test_all_light_on_a_pane_comes_out_of_its_back(half: float) -> None:
    # What enters by the front meets the pane's own sides beyond the critical angle, so that all of
    # it leaves by the back: the tubes together have the solid angle of the front.
    pane = box("pane", [10.0, -half, -half], [13.0, half, half], "clear")
    found = found_of((pane,), [0.0, 0.0, 0.0])
    assert found.angles().sum() == pytest.approx(square_angle(half, 10.0), rel=1e-2)
    assert found.places[..., 0] == pytest.approx(np.full(found.places.shape[:2], 13.0))


def test_its_images_end_where_the_pane_does() -> None:
    pane = box("pane", [10.0, -10.0, -10.0], [13.0, 10.0, 10.0], "clear")
    found = found_of((pane,), [0.0, 0.0, 0.0])
    # On the front face, the corner rays reach its rim to within 0.06° (0.02 mm there) and never pass
    # it. The light is taken 0.002 mm in front of its point.
    at = found.sent[..., 1:] / found.sent[..., :1] * 9.998
    assert np.abs(at).max() <= 10.0 + 1e-9
    assert np.abs(at).max() >= 10.0 - 0.03


def test_half_the_light_is_lost_behind_a_block_over_half_the_pane() -> None:
    pane = box("pane", [10.0, -10.0, -10.0], [13.0, 10.0, 10.0], "clear")
    block = box("block", [5.0, -20.0, -20.0], [6.0, 0.0, 20.0])
    found = found_of((pane, block), [0.0, 0.0, 0.0])
    assert found.angles().sum() == pytest.approx(square_angle(10.0, 10.0) / 2.0, rel=1e-2)
    assert found.sent[..., 1].min() >= -1e-9


def test_nothing_goes_out_behind_the_points_own_back() -> None:
    pane = box("pane", [10.0, -10.0, -10.0], [13.0, 10.0, 10.0], "clear")
    assert len(found_of((pane,), [0.0, 0.0, 0.0], -RIGHT).point) == 0
    # Facing up, it lights the upper half of the pane only.
    found = found_of((pane,), [0.0, 0.0, 0.0], [[0.0, 0.0, 1.0]])
    assert found.sent[..., 2].min() > 0.0
    assert found.angles().sum() == pytest.approx(square_angle(10.0, 10.0) / 2.0, rel=1e-2)


def test_images_that_are_too_small_are_left_out() -> None:
    # A pane of half-width a at 100 mm takes up about (2a/100)² sr.
    kept, left = 1.0, 0.75
    for half, shows in ((kept, True), (left, False)):
        size = square_angle(half, 100.0) / SQUARE_DEGREE
        assert bool(size > LEAST_IMAGE) is shows
        pane = box("pane", [100.0, -half, -half], [103.0, half, half], "clear")
        # Placed on a ray of the fan, so that it is met at all.
        ray = directions_at(np.array([44.0, 90.0]))
        offset = np.array([100.0 - 100.0, 100.0 * ray[1] / ray[0], 100.0 * ray[2] / ray[0]])
        found = found_of((pane,), [0.0, -offset[1], -offset[2]])
        assert (len(found.point) > 0) is shows


@pytest.mark.slow
def test_all_round_under_a_lid_the_whole_upper_half_gets_out() -> None:
    lid = box("lid", [-4000.0, -4000.0, 10.0], [4000.0, 4000.0, 13.0], "clear")
    found = found_of((lid,), [0.0, 0.0, 0.0], [[0.0, 0.0, 1.0]])
    assert found.angles().sum() == pytest.approx(2.0 * np.pi, rel=0.01)
    assert found.directions == pytest.approx(found.sent, abs=1e-9)


def test_same_point_same_bits() -> None:
    parts = (
        box("pane", [10.0, -10.0, -10.0], [13.0, 10.0, 10.0], "clear"),
        box("plate", [20.0, -40.0, 0.0], [60.0, 40.0, 5.0], "clear"),
    )
    once, twice = found_of(parts, [0.0, 0.0, 0.0]), found_of(parts, [0.0, 0.0, 0.0])
    for name in ("point", "faces", "sent", "places", "directions"):
        assert np.array_equal(getattr(once, name), getattr(twice, name))
