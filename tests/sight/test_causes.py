"""Growing the named edge by the named amount hides what it is said to hide."""

import numpy as np
import pytest

from stackview.description.lamp import Eye
from stackview.sight.bands import Kind
from stackview.sight.causes import causes
from stackview.sight.edge_names import EdgeNames
from stackview.sight.eyes import Standpoint, look_from_eyes
from stackview.sight.scene import scene_of
from tests.lamps import box, light_points

FRONT = [[0.0, -1.0, 0.0]]
OPEN = Standpoint(0.0, None)
AT_FRONT = np.array([0.0])


def study(parts, points, eye):  # type: ignore[no-untyped-def]
    scene = scene_of(parts)
    view = look_from_eyes(scene, points, (eye,), OPEN, 100.0, AT_FRONT)[0]
    return view, causes(scene, EdgeNames(scene), points, view, OPEN, 0)


def test_overhang_grown_outwards_meets_the_line() -> None:
    # Similar triangles: the eye at 1000 and 300 up sees under an eave 20 above the point at slope
    # 0.25; the eave at 60 must reach 20/0.25 = 80, or come down to 0.25·60 = 15.
    points, eye = light_points([[0, 0, 50]], FRONT), Eye("test", 1000.0, 300.0)
    eave = [-500, -60, 70], [500, 60, 80]
    view, found = study((box("eave", *eave),), points, eye)
    assert view.kind[0, 0] == Kind.BARE
    assert len(found) == 1
    assert found[0].edge == "eave, outer edge underneath"
    assert found[0].outwards == pytest.approx(20.0, abs=1e-5)
    assert found[0].up == pytest.approx(-5.0, abs=1e-5)
    for growth, kind in ((19.99, Kind.BARE), (20.01, -1)):
        grown = box("eave", [-500, -60 - growth, 70], [500, 60, 80])
        assert study((grown,), points, eye)[0].kind[0, 0] == kind


def test_ledge_below_can_only_rise_to_meet_a_line_that_climbs() -> None:
    points, eye = light_points([[0, 0, 50]], FRONT), Eye("test", 1000.0, 60.0)
    _, found = study((box("ledge", [-500, -100, 0], [500, 100, 40]),), points, eye)
    assert found[0].edge == "ledge, outer edge on top"
    assert found[0].outwards is None
    assert found[0].up == pytest.approx(10.0 + 0.01 * 100, abs=1e-5)


def test_a_hidden_point_needs_no_cause() -> None:
    wall = box("wall", [-500, -100, 0], [500, -90, 900])
    assert study((wall,), light_points([[0, 0, 50]], FRONT), Eye("test", 1000.0, 60.0))[1] == ()


def test_points_are_gathered_under_the_edge_nearest_to_their_lines() -> None:
    points = light_points([[0, 0, 50], [10, 0, 52], [0, 0, 45]], FRONT * 3)
    parts = (box("eave", [-500, -60, 70], [500, 60, 80]), box("ledge", [-500, -60, 0], [500, 60, 30]))
    view, found = study(parts, points, Eye("test", 1000.0, 60.0))
    assert int(view.counts(Kind.BARE)[0]) == sum(cause.points for cause in found) == 3


def test_a_line_all_but_level_is_met_only_by_going_up() -> None:
    # Eye and point at one height, a rim 15 below at 50: no rim reaches a level line outwards.
    base = box("base", (-50, -50, 0), (50, 50, 10))
    points = light_points([[0, 0, 25]], FRONT)
    _, (level,) = study((base,), points, Eye("level", 1000.0, 25.0))
    assert level.outwards is None
    assert level.up == pytest.approx(15.0, abs=1e-5)
    # 12.5 lower in 1000: ζ/t = 15/0.0125 = 1200, and 50 of it are there already.
    _, (lower,) = study((base,), points, Eye("lower", 1000.0, 12.5))
    assert lower.outwards == pytest.approx(1150.0, abs=0.1)
