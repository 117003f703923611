"""The quick count for one eye: the same answer as the slow way, from anywhere."""

from functools import cache

import numpy as np
import pytest

from stackview.description.lamp import Eye, Surface
from stackview.light.points import LightPoints
from stackview.sight.at_eye import EyeIndex, eye_index, kinds_at
from stackview.sight.bands import HIDDEN, Kind, even_bearings, faces_of
from stackview.sight.beams import Beams, traced
from stackview.sight.edges import edges_for
from stackview.sight.eyes import Standpoint, eye_places, look_from_eyes
from stackview.sight.glazed_eyes import glazed_at, true_kinds
from stackview.sight.scene import Scene, scene_of
from stackview.sight.towards import kinds_towards
from tests.lamps import box, disc, light_points, tiers, tiers_with_a_window, wound


@cache
def windowed() -> tuple[Scene, LightPoints, EyeIndex, Beams]:
    """The lamp with a window, its 40 light points, its index, and light traced through its acrylic: made once."""
    parts, height = tiers_with_a_window()
    scene, points = scene_of(parts), wound(40, 20.0, height - 12.0)
    return scene, points, eye_index(scene, points), traced(scene, points)


def slow(scene: Scene, points: LightPoints, beams: Beams, eyes, surface):  # type: ignore[no-untyped-def]
    """(n, e) by the way that the table of eyes takes, light through clear acrylic looked up eye by eye."""
    found = []
    for start in range(0, len(points), 8):
        run = range(start, min(start + 8, len(points)))
        wanted = np.ones((1, len(run), len(eyes)), dtype=bool)
        edges = edges_for(scene, faces_of(points, run), points.directions[run])
        found.append(
            kinds_towards(
                scene, edges, points.centres[run], points.directions[run], eyes[None], surface, wanted
            )[0]
        )
    glazed = np.stack([glazed_at(beams, eye, surface) for eye in eyes], axis=1)
    return true_kinds(np.concatenate(found), glazed)


def anywhere(count: int, seed: int) -> np.ndarray:
    """Eyes in all directions, from just outside the lamp to across a room."""
    draw = np.random.default_rng(seed)
    way = draw.normal(size=(count, 3))
    way /= np.linalg.norm(way, axis=1)[:, None]
    return (
        np.array([0.0, 0.0, 50.0]) + way * np.exp(draw.uniform(np.log(130.0), np.log(6000.0), count))[:, None]
    )


@pytest.mark.parametrize("count", [100, pytest.param(1500, marks=pytest.mark.slow)])
@pytest.mark.parametrize(
    "surface",
    [
        pytest.param(None, marks=pytest.mark.slow),
        Surface(740.0, (1400.0, 700.0), at=(0.0, 90.0)),
        pytest.param(Surface(500.0, (450.0,)), marks=pytest.mark.slow),
    ],
)
def test_same_as_the_table_from_hundreds_of_eyes(surface: Surface | None, count: int) -> None:
    scene, points, index, beams = windowed()
    eyes = anywhere(count, 4)
    expected = slow(scene, points, beams, eyes, surface)
    quick = np.stack([kinds_at(index, eye, surface) for eye in eyes], axis=1)
    assert np.array_equal(quick, expected)
    for kind in (HIDDEN, *Kind):
        assert (quick == kind).sum() > 20, "every class is among the eyes tried"


def test_same_at_even_bearings_where_corners_line_up() -> None:
    # 96 facets and 32 light points share their bearings: lines run through corners and along edges.
    parts, height = tiers()
    scene, points = scene_of(parts), wound(32, 20.0, height - 12.0, turns=4.0)
    eye, around = Eye("level", 700.0, 60.0), even_bearings(96)
    expected = look_from_eyes(scene, points, (eye,), Standpoint(0.0, None), height, around)[0].kind
    index = eye_index(scene, points)
    places = eye_places(eye, Standpoint(0.0, None), around)
    quick = np.stack([kinds_at(index, place, None) for place in places], axis=1)
    assert np.array_equal(quick, expected)


def test_over_a_rim() -> None:
    # The rim's near edge is 20 above the point at 150; an eye at 1100 clears it at 50 + 20/150·1100 = 196.67.
    wall = box("wall", [-2000, -200, 0], [2000, -150, 70])
    index = eye_index(scene_of((wall,)), light_points([[0, 0, 50]], [[0.0, -1.0, 0.0]]))
    assert kinds_at(index, np.array([0.0, -1100.0, 196.6]), None).tolist() == [HIDDEN]
    assert kinds_at(index, np.array([0.0, -1100.0, 196.7]), None).tolist() == [Kind.BARE]


def test_straight_above_and_below() -> None:
    index = eye_index(
        scene_of((disc("lid", 30.0, 60.0, 65.0, "clear"),)),
        light_points([[0, 0, 50], [0, 0, 50]], [[0, 0, 1], [0, 0, -1]]),
    )
    assert kinds_at(index, np.array([0.0, 0.0, 500.0]), None).tolist() == [Kind.GLAZED, HIDDEN]
    assert kinds_at(index, np.array([0.0, 0.0, -500.0]), None).tolist() == [HIDDEN, Kind.BARE]


def test_no_light_points_and_no_parts() -> None:
    none = light_points(np.zeros((0, 3)), np.zeros((0, 3)))  # type: ignore[arg-type]
    assert kinds_at(eye_index(scene_of(tiers()[0]), none), np.array([0.0, -500.0, 50.0]), None).tolist() == []
    alone = eye_index(scene_of(()), light_points([[0, 0, 50]], [[0.0, -1.0, 0.0]]))
    assert kinds_at(alone, np.array([0.0, -500.0, 50.0]), None).tolist() == [Kind.BARE]


def test_progress_counts_every_light_point() -> None:
    done: list[int] = []
    eye_index(scene_of(tiers()[0]), wound(20, 20.0, 80.0), progress=done.append)
    assert sum(done) == 20
