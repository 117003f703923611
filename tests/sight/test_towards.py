"""Straight kinds along lines to eyes, against the bands of the same lines."""

import numpy as np

from stackview.sight.bands import HIDDEN, Kind, bands_from, sorted_bearings, taken_at
from stackview.sight.crossings import bearings_of
from stackview.sight.edges import edges_for
from stackview.sight.scene import scene_of
from stackview.sight.towards import kinds_towards
from tests.lamps import light_points, tiers, wound


def test_every_line_has_the_kind_of_the_band_it_lies_in() -> None:
    # Two ways through the same silhouettes: sums below a line here, a sort of all crossings there.
    parts, height = tiers()
    scene, points = scene_of(parts), wound(12, 20.0, height - 12.0)
    draw = np.random.default_rng(2)
    turn, away = draw.uniform(0, 2 * np.pi, 60), draw.uniform(200.0, 3000.0, 60)
    eyes = np.column_stack([away * np.sin(turn), away * np.cos(turn), draw.uniform(-0.5, 1.0, 60) * away])
    edges = edges_for(scene, points.centres)
    wanted = np.ones((1, len(points), len(eyes)), dtype=bool)
    found = kinds_towards(scene, edges, points.centres, points.directions, eyes[None], None, wanted)[0]
    places = taken_at(points)
    for index, place in enumerate(places):
        for at, eye in enumerate(eyes):
            offset = eye - place
            bearing = sorted_bearings(np.array([float(bearings_of(offset))]))
            _, _, low, high, kind, _, _ = bands_from(
                scene, edges, place[None], points.directions[index : index + 1], bearing
            )
            elevation = np.degrees(np.arctan2(offset[2], np.hypot(offset[0], offset[1])))
            within = np.flatnonzero((low < elevation) & (elevation < high))
            expected = kind[within[0]] if len(within) else HIDDEN
            assert found[index, at] == expected
    assert {HIDDEN, int(Kind.BARE)} < set(found.ravel().tolist())


def test_only_wanted_lines_are_judged() -> None:
    points = light_points([[0, 0, 50], [5, 0, 50]], [[0, -1, 0]] * 2)
    scene, eyes = scene_of(()), np.array([[[0.0, -500.0, 60.0], [40.0, -500.0, 60.0]]])
    edges = edges_for(scene, points.centres)
    wanted = np.array([[[True, False], [False, True]]])
    found = kinds_towards(scene, edges, points.centres, points.directions, eyes, None, wanted)
    assert found.tolist() == [[[Kind.BARE, HIDDEN], [HIDDEN, Kind.BARE]]]
