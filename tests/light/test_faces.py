"""Light-giving faces: corners square to their direction, several lights as one, bearings."""

import numpy as np
import pytest

from stackview.description.light_source import Emitter
from stackview.light.faces import face_points, outwards, points_joined, sideways

EMITTER = Emitter(beam=120.0, face=(4.0, 2.0), kelvin=2700.0, lumens=5.0, watts=None)
BEARINGS = np.array([0.0, 37.0, 90.0, 180.0, 270.0, 359.0])


def made(source: int = 0, emitter: Emitter = EMITTER):  # type: ignore[no-untyped-def]
    out = outwards(BEARINGS)
    return face_points(30.0 * out, out, sideways(BEARINGS), emitter, source)


def test_bearings_of_the_guide() -> None:
    # 0° front (−y), 90° right (+x), counter-clockwise from above.
    assert outwards(np.array([0.0, 90.0, 180.0, 270.0])) == pytest.approx(
        np.array([[0, -1, 0], [1, 0, 0], [0, 1, 0], [-1, 0, 0]], float), abs=1e-15
    )
    up = np.cross(outwards(BEARINGS), sideways(BEARINGS))
    assert up == pytest.approx(np.tile([0.0, 0.0, 1.0], (len(BEARINGS), 1)), abs=1e-12)


def test_faces_have_their_size_and_stand_square_to_their_direction() -> None:
    points = made()
    around = np.roll(points.corners, -1, axis=1) - points.corners
    sides = np.linalg.norm(around, axis=2)
    assert sides == pytest.approx(np.tile([4.0, 2.0, 4.0, 2.0], (len(points), 1)))
    assert np.einsum("nij,nj->ni", around, points.directions) == pytest.approx(0.0, abs=1e-12)
    assert points.corners.mean(axis=1) == pytest.approx(points.centres)


def test_corners_run_counter_clockwise_seen_from_in_front() -> None:
    points = made()
    one, other = points.corners[:, 1] - points.corners[:, 0], points.corners[:, 3] - points.corners[:, 0]
    # The cross product of two sides is the area, 4 mm × 2 mm, along the direction.
    assert np.cross(one, other) == pytest.approx(8.0 * points.directions)


def test_light_that_is_not_given_is_not_a_number() -> None:
    unknown = made(emitter=Emitter(120.0, (4.0, 2.0), 2700.0, None, None))
    assert np.isnan(unknown.lumens).all()
    assert (made().lumens == 5.0).all()


def test_joined_keeps_order_and_source() -> None:
    both = points_joined([made(0), made(3)])
    assert len(both) == 2 * len(BEARINGS)
    assert both.source.tolist() == [0] * len(BEARINGS) + [3] * len(BEARINGS)
    assert (both.centres[: len(BEARINGS)] == made().centres).all()
    assert both.source.dtype == np.int64


def test_no_lights_are_no_points() -> None:
    none = points_joined([])
    assert len(none) == 0
    assert none.corners.shape == (0, 4, 3)
    assert none.centres.shape == none.directions.shape == (0, 3)
