"""Corners of faces, against the counts of eyes and a closed form."""

import numpy as np
import pytest

from stackview.sight.bands import Kind
from stackview.sight.corners_seen import corners_seen
from stackview.sight.scene import scene_of
from tests.lamps import disc, light_points


def test_a_corner_shows_over_a_rim_where_the_line_past_it_runs() -> None:
    """A face 2 mm high at z = 9 to 11 before a disc's rim at radius 50 and z = 10: its upper corners look over it.

    From the upper corners, 11 high and 10 from the axis, the line over the rim goes down by 1 mm in 40.
    """
    disc_below = disc("disc", 50.0, 0.0, 10.0)
    points = light_points(np.array([[10.0, 0.0, 10.0]]), np.array([[1.0, 0.0, 0.0]]), face=2.0)
    corners = corners_seen(scene_of((disc_below,)), points, 90.0)
    kind, low, high = corners.over(1000.0, np.pi / 2.0, None)
    assert set(kind.tolist()) == {int(Kind.BARE)}
    assert low.min() == pytest.approx(11.0 - 990.0 / 40.0, abs=0.1)
    assert (high > 1000.0).all()


def test_all_round_it_is_the_union_over_bearings() -> None:
    points = light_points(np.array([[0.0, 0.0, 12.0]]), np.array([[0.0, 0.0, 1.0]]), face=2.0)
    corners = corners_seen(scene_of((disc("disc", 50.0, 0.0, 10.0),)), points, None)
    kind, low, high = corners.over(2000.0, None, None)
    assert len(kind) > 400
    # A face turned up shows nothing of itself below its own level.
    assert low.min() == pytest.approx(12.0, abs=0.1)
    assert (high > low).all()


def test_points_without_faces_have_no_corners() -> None:
    points = light_points(np.array([[0.0, 0.0, 12.0]]), np.array([[0.0, 0.0, 1.0]])).middles()
    corners = corners_seen(scene_of((disc("disc", 50.0, 0.0, 10.0),)), points, None)
    assert all(len(part) == 0 for part in corners.over(500.0, None, None))
