import math

import numpy as np
import pytest

from stackview.curves.arcs import Path
from stackview.curves.front import CannotOffset, front_of, path_through, run
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Rectangle

CUT = Path(  # a 20 mm square with one corner cut off by 2 mm legs
    np.array([(0, 0, 0), (20, 0, 0), (20, 18, 0), (18, 20, 0), (0, 20, 0)], dtype=float)
)
GONE_AT = math.sqrt(2.0) / math.tan(math.pi / 8.0)
"""Its short side, 2√2 long, shrinks by 2·tan(22.5°) a millimetre (plane geometry)."""


def test_a_short_side_drops_out_when_its_length_is_used_up() -> None:
    assert len(run(front_of(CUT, -1.0, "mitre"), -0.9999 * GONE_AT)[1]) == 5
    front, joints = run(front_of(CUT, -1.0, "mitre"), -1.0001 * GONE_AT)
    assert len(joints) == 4
    assert path_through(front, joints).vertices[:, 2].tolist() == [0.0] * 4


def test_a_corner_radius_drops_out_at_the_radius() -> None:
    path = path_of(Outline(Rectangle(60.0, 40.0, 5.0)))
    assert len(run(front_of(path, -1.0, "mitre"), -4.999)[1]) == 8
    assert len(run(front_of(path, -1.0, "mitre"), -5.0)[1]) == 4


def test_corners_that_open_get_an_arc_about_the_old_corner() -> None:
    square = path_of(Outline(Rectangle(20.0, 20.0)))
    front, joints = run(front_of(square, 1.0, "round"), 3.0)
    assert front.arc.sum() == 4
    assert np.allclose(np.abs(front.centre[front.arc]), 10.0)
    assert np.allclose(path_through(front, joints).vertices[front.arc, 2], math.tan(math.pi / 8.0))
    assert not run(front_of(square, -1.0, "round"), -3.0)[0].arc.any()


def test_stops_where_nothing_is_left() -> None:
    with pytest.raises(CannotOffset):
        run(front_of(CUT, -1.0, "mitre"), -10.5)
