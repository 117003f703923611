"""Cut faces: solid, where the plane is, with the area that the section has."""

from dataclasses import replace

import numpy as np
import pytest

from stackview.stack.section import section
from stackview.window.cutting import cut_faces, cut_plane, kept_points
from stackview.window.shown import Shown
from stackview.window.state import after_slider, first_view


def area(places: np.ndarray) -> float:
    a, b, c = places.reshape(-1, 3, 3).transpose(1, 0, 2)
    return float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2)


# Not along the flat end of the cable's bore at the axis: a hair's breadth would decide there.
@pytest.mark.parametrize("bearing", [20.0, 35.0, 130.0])
def test_cut_faces_have_the_sections_area(honeycomb: Shown, bearing: float) -> None:
    state = after_slider(replace(first_view(honeycomb.ball), bearing=bearing), "cut", 0.5)
    found = cut_faces(state, honeycomb)
    assert found is not None
    # The section is drawn along a bearing, the cut stands square to one: a quarter turn apart.
    faces = section(honeycomb.study.stack, bearing + 90.0)
    expected = sum(face.area for face in faces if not face.part.stays_whole)
    # The window cuts a hair behind the axis.
    assert area(found.places) == pytest.approx(expected, rel=1e-4)
    plane = cut_plane(state, honeycomb)
    assert plane is not None
    at, normal = plane
    assert np.abs((found.places - at) @ normal).max() < 1e-6
    assert found.at.min() >= 0.0
    assert found.at.max() <= 1.0


def test_whole_and_wholly_cut(honeycomb: Shown) -> None:
    state = first_view(honeycomb.ball)
    assert cut_plane(state, honeycomb) is None
    assert kept_points(state, honeycomb).all()
    assert cut_faces(after_slider(state, "cut", 1.0), honeycomb) is None


def test_strips_on_the_core_stay(honeycomb: Shown) -> None:
    state = after_slider(first_view(honeycomb.ball), "cut", 0.9)
    assert kept_points(state, honeycomb).all()


def test_cut_faces_go_up_with_their_parts(honeycomb: Shown) -> None:
    state = after_slider(first_view(honeycomb.ball), "cut", 0.5)
    low, high = (cut_faces(replace(state, spread=share), honeycomb) for share in (0.0, 1.0))
    assert low is not None
    assert high is not None
    assert area(low.places) == pytest.approx(area(high.places))
    assert high.places[:, 2].max() > low.places[:, 2].max() + 50.0


def test_parts_are_told_apart_by_lines(honeycomb: Shown) -> None:
    found = cut_faces(after_slider(first_view(honeycomb.ball), "cut", 0.5), honeycomb)
    assert found is not None
    bright = found.picture.max(axis=2)
    assert (bright[bright > 0] < 60).mean() < 0.3
    assert np.unique(found.picture.reshape(-1, 3), axis=0).shape[0] > 200, "grain shows on the cut"
