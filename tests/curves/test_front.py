import math

import numpy as np
import pytest

from stackview.curves.advance import run
from stackview.curves.arcs import Path
from stackview.curves.front import front_of, joints_at, left_between, path_through, state
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Rectangle

CUT = Path(  # a 20 mm square with one corner cut off by 2 mm legs
    np.array([(0, 0, 0), (20, 0, 0), (20, 18, 0), (18, 20, 0), (0, 20, 0)], dtype=float)
)


def test_corners_that_open_get_an_arc_about_the_old_corner() -> None:
    square = path_of(Outline(Rectangle(20.0, 20.0)))
    front, joints = run(front_of(square, 1.0, "round"), 3.0)
    assert front.arc.sum() == 4
    assert np.allclose(np.abs(front.centre[front.arc]), 10.0)
    assert np.allclose(path_through(front, joints).vertices[front.arc, 2], math.tan(math.pi / 8.0))
    assert not run(front_of(square, -1.0, "round"), -3.0)[0].arc.any()


def test_a_joint_asked_alone_is_the_joint_of_all() -> None:
    front = front_of(path_of(Outline(Rectangle(60.0, 40.0, 5.0))), -1.0, "mitre")
    joints, gone = state(front, -2.0)
    assert not gone.any()
    for k in range(len(joints)):
        alone = joints_at(front, np.array([k - 1]), np.array([k]), np.array([-2.0]))
        assert alone[0].tolist() == joints[k].tolist()


def test_what_is_left_of_a_side_and_an_arc_goes_down_to_nothing() -> None:
    front = front_of(CUT, -1.0, "mitre")
    short = np.array([2])
    for by in (0.0, -1.0, -2.0):
        joints, _ = state(front, by)
        left = left_between(front, short, joints[short], joints[short + 1], by)
        assert left[0] == pytest.approx(math.sqrt(8.0) + 2.0 * by * math.tan(math.pi / 8.0), abs=1e-10)
    assert state(front, -4.0)[1].tolist() == [False, False, True, False, False]
