"""Scenes: edges paired, bodies weighed, and only edges left out that never bound a view."""

import numpy as np
import pytest
import trimesh

from stackview.description.material import Finish
from stackview.sight.crossings import silhouettes
from stackview.sight.edges import edges_for
from stackview.sight.scene import CLEAR, OPAQUE, VEIL, scene_of
from tests.lamps import box, part, tiers


def test_every_edge_has_two_triangles() -> None:
    scene = scene_of((box("one", [0, 0, 0], [1, 1, 1]), box("two", [5, 0, 0], [6, 1, 1])))
    assert len(scene.tail) == 2 * 18  # Euler: a box of 12 triangles has 18 edges
    assert np.all(scene.solid_of_triangle[scene.left] == scene.solid_of_triangle[scene.right])


def test_open_mesh_is_refused() -> None:
    mesh = trimesh.creation.box()
    mesh.update_faces(np.arange(11))
    with pytest.raises(ValueError, match="not watertight"):
        scene_of((part("open", mesh),))


def test_no_parts_give_an_empty_scene() -> None:
    scene = scene_of(())
    assert len(scene.tail) == 0
    assert len(edges_for(scene, np.zeros((1, 3))).number) == 0


def test_weights_tell_opaque_opal_clear_and_sanded_apart() -> None:
    cube = [0, 0, 0], [1, 1, 1]
    parts = (
        box("wood", *cube),
        box("opal", *cube, "opal"),
        box("clear", *cube, "clear"),
        box("sanded", *cube, "clear", Finish(top="sanded", underside="sanded", edge="sanded")),
    )
    scene = scene_of(parts)
    for index, leave, cross in ((0, OPAQUE, 0), (1, VEIL + CLEAR, 0), (2, CLEAR, 0), (3, CLEAR, VEIL)):
        own = scene.solid_of_triangle == index
        assert set(scene.exit_weight[own].tolist()) == {leave}
        assert set(scene.cross_weight[own].tolist()) == {cross}


def test_edges_left_out_are_never_in_a_silhouette() -> None:
    parts, height = tiers(4, 24)
    scene = scene_of(parts)
    draw = np.random.default_rng(3)
    places = np.column_stack([draw.uniform(-20, 20, (40, 2)), draw.uniform(18, height - 10, 40)])
    chosen = edges_for(scene, places)
    everywhere = edges_for(scene, np.array([[-1e5, -1e5, -1e5], [1e5, 1e5, 1e5]]))
    assert len(chosen.number) < 0.6 * len(everywhere.number)
    few, many = silhouettes(scene, chosen, places), silhouettes(scene, everywhere, places)
    assert np.array_equal(few.edge, many.edge)
    assert np.array_equal(few.place, many.place)
    assert np.array_equal(few.nadir, many.nadir)
