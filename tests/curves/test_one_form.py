import math

import numpy as np
import pytest

from stackview.curves.arcs import Path, area, length, turned
from stackview.curves.corners import circle
from stackview.curves.one_form import in_one_form, mirrored_path
from stackview.description.outline import Outline, path_of
from stackview.description.shapes import Curve, Rectangle


def test_a_circle_is_its_centre_and_radius_wherever_it_begins() -> None:
    for turn in (0.0, 17.0, 90.0):
        assert in_one_form(turned(circle(12.5), turn)) == pytest.approx(
            np.array([[0.0, 0.0, 12.5]]), abs=1e-12
        )


def test_points_on_a_side_and_on_an_arc_are_left_out() -> None:
    # A half disc of radius 10: one line, one arc; then with three points that change nothing.
    plain = Path(np.array([(-10.0, 0.0, 0.0), (10.0, 0.0, 1.0)]))
    quarter = math.tan(math.pi / 8.0)
    more = Path(
        np.array(
            [(10.0, 0.0, quarter), (0.0, 10.0, quarter), (-10.0, 0.0, 0.0), (-3.0, 0.0, 0.0), (2.0, 0.0, 0.0)]
        )
    )
    rows = in_one_form(more)
    assert sorted(rows.round(9).tolist()) == sorted(in_one_form(plain).round(9).tolist())


def test_a_needle_that_turns_back_is_no_line_that_goes_on() -> None:
    path = Path(
        np.array([(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (10.0, 10.0, 0.0), (10.0, 4.0, 0.0), (0.0, 4.0, 0.0)])
    )
    assert len(in_one_form(path)) == 5


def test_mirrored_keeps_area_and_length_and_is_its_own_inverse(ell: Curve) -> None:
    for path in (
        path_of(Outline(ell)),
        path_of(Outline(Rectangle(60.0, 30.0, 5.0), turn=20.0, at=(3.0, 4.0))),
    ):
        over = mirrored_path(path)
        assert area(over) == pytest.approx(area(path), rel=1e-13)
        assert length(over) == pytest.approx(length(path), rel=1e-13)
        assert over.vertices[:, 0].max() == pytest.approx(-path.vertices[:, 0].min())
        back = mirrored_path(over).vertices
        assert sorted(map(tuple, back.round(9))) == sorted(map(tuple, path.vertices.round(9)))
