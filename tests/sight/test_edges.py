"""Edges: narrowed region by region, and nothing left out that a line could meet."""

import numpy as np
import pytest

from stackview.sight.crossings import silhouettes
from stackview.sight.edges import edges_for
from stackview.sight.scene import scene_of
from tests.lamps import disc, tiers


def places_in(low: float, high: float, seed: int) -> np.ndarray:
    draw = np.random.default_rng(seed)
    return np.column_stack([draw.uniform(-20, 20, (40, 2)), draw.uniform(low, high, 40)])


def test_narrowed_step_by_step_they_are_those_chosen_at_once() -> None:
    parts, height = tiers(4, 24)
    scene, places = scene_of(parts), places_in(18.0, height - 10.0, 3)
    ways = np.array([[1.0, 0.0, 0.0], [0.6, 0.8, 0.0]])
    near = places[:8]
    at_once = edges_for(scene, near, ways)
    in_steps = edges_for(scene, places).narrowed(scene, near, ways)
    assert np.array_equal(in_steps.number, at_once.number)
    assert np.array_equal(in_steps.beneath, at_once.beneath)
    assert len(at_once.number) < len(edges_for(scene, places).number)


def test_ends_are_those_of_the_scene() -> None:
    parts, height = tiers(3, 24)
    scene = scene_of(parts)
    edges = edges_for(scene, places_in(18.0, height - 10.0, 5))
    for ends, known in ((edges.tail, scene.tail), (edges.head, scene.head)):
        assert np.array_equal(edges.vertices[:, ends].T, scene.vertices[known[edges.number]])


@pytest.mark.parametrize(("lowest", "highest"), [(-0.2, 0.1), (0.3, 0.5), (-0.9, -0.4)])
def test_bodies_left_out_come_to_nothing_on_every_line_asked_about(lowest: float, highest: float) -> None:
    parts, _ = tiers(6, 24)
    scene = scene_of(parts)
    places = places_in(40.0, 45.0, 8)
    everything = edges_for(scene, places)
    some = edges_for(scene, places, None, lowest, highest)
    dropped = np.setdiff1d(scene.solid_of_triangle, scene.solid_of_triangle[scene.left[some.number]])
    assert len(dropped)
    for solid in dropped.tolist():
        own = scene.vertices[np.unique(scene.triangles[scene.solid_of_triangle == solid])]
        rise = own[:, None] - places
        tangent = rise[..., 2] / np.hypot(rise[..., 0], rise[..., 1])
        assert np.all(tangent > highest) or np.all(tangent < lowest)
    assert len(silhouettes(scene, some, places).edge) < len(silhouettes(scene, everything, places).edge)


def test_a_plate_that_a_line_only_grazes_is_kept() -> None:
    # A lid of radius 50 at height 60 is seen from (0, 0, 50) at tan = 10/50 and more.
    scene, places = scene_of((disc("lid", 50.0, 60.0, 65.0),)), np.array([[0.0, 0.0, 50.0]])
    assert len(edges_for(scene, places, None, 0.0, 0.201).number)
    assert not len(edges_for(scene, places, None, 0.0, 0.199).number)
