"""The edges that bound a gap, and that moving one by the amount told hides what it is said to hide."""

import numpy as np
import pytest

from stackview.description.lamp import Eye
from stackview.sight.bands import Kind
from stackview.sight.causes import causes, gap_at
from stackview.sight.edge_names import EdgeNames
from stackview.sight.eyes import Standpoint, eye_places, look_from_eyes
from stackview.sight.scene import scene_of
from tests.lamps import box, light_points

FRONT = [[0.0, -1.0, 0.0]]
OPEN = Standpoint(0.0, None)
AT_FRONT = np.array([0.0])


def study(parts, points, eye):  # type: ignore[no-untyped-def]
    scene = scene_of(parts)
    view = look_from_eyes(scene, points, (eye,), OPEN, 100.0, AT_FRONT)[0]
    return view, causes(scene, EdgeNames(scene), points, view, OPEN, 0)


def short_by(parts, points, eye):  # type: ignore[no-untyped-def]
    """How far up each edge of the first point's gap would have to go [mm], the lower one first."""
    scene = scene_of(parts)
    (place,) = eye_places(eye, OPEN, AT_FRONT)
    return [up for _, up in gap_at(scene, points, 0, place)]


def test_an_eave_comes_down_to_meet_the_line() -> None:
    # Similar triangles: the eye at 1000 and 300 up sees under an eave 20 above the point at slope
    # 0.25; the eave at 60 must come down to 0.25·60 = 15.
    points, eye = light_points([[0, 0, 50]], FRONT), Eye("test", 1000.0, 300.0)
    eave = (box("eave", [-500, -60, 70], [500, 60, 80]),)
    view, found = study(eave, points, eye)
    assert view.kind[0, 0] == Kind.BARE
    assert [(cause.edge, cause.points, cause.between) for cause in found] == [
        ("eave, outer edge underneath", 1, ("eave",))
    ]
    assert short_by(eave, points, eye) == pytest.approx([-5.0], abs=1e-5)
    for lower, kind in ((4.99, Kind.BARE), (5.01, -1)):
        moved = box("eave", [-500, -60, 70 - lower], [500, 60, 80])
        assert study((moved,), points, eye)[0].kind[0, 0] == kind


def test_a_ledge_below_rises_to_meet_a_line_that_climbs() -> None:
    points, eye = light_points([[0, 0, 50]], FRONT), Eye("test", 1000.0, 60.0)
    ledge = (box("ledge", [-500, -100, 0], [500, 100, 40]),)
    assert study(ledge, points, eye)[1][0].edge == "ledge, outer edge on top"
    assert short_by(ledge, points, eye) == pytest.approx([10.0 + 0.01 * 100], abs=1e-5)


def test_a_hidden_point_needs_no_cause() -> None:
    wall = box("wall", [-500, -100, 0], [500, -90, 900])
    assert study((wall,), light_points([[0, 0, 50]], FRONT), Eye("test", 1000.0, 60.0))[1] == ()


def test_points_are_gathered_under_the_edge_nearest_to_their_lines() -> None:
    points = light_points([[0, 0, 50], [10, 0, 52], [0, 0, 45]], FRONT * 3)
    parts = (box("eave", [-500, -60, 70], [500, 60, 80]), box("ledge", [-500, -60, 0], [500, 60, 30]))
    view, found = study(parts, points, Eye("test", 1000.0, 60.0))
    assert int(view.counts(Kind.BARE)[0]) == sum(cause.points for cause in found) == 3


def test_a_level_line_is_met_by_what_it_lies_above_the_rim() -> None:
    # Eye and point at one height, a rim 15 below at 50.
    base, points = (box("base", (-50, -50, 0), (50, 50, 10)),), light_points([[0, 0, 25]], FRONT)
    assert short_by(base, points, Eye("level", 1000.0, 25.0)) == pytest.approx([15.0], abs=1e-5)
    # 12.5 lower in 1000: 0.625 lower over the rim
    assert short_by(base, points, Eye("lower", 1000.0, 12.5)) == pytest.approx([15.0 - 0.625], abs=1e-5)
