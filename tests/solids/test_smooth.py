import numpy as np
import pytest
import trimesh

from stackview.solids.smooth import corners, crosses, edges, patches


def test_a_box_has_six_patches_and_three_corners_at_each_vertex():
    box = trimesh.creation.box((2, 3, 4))
    vertices, triangles = np.array(box.vertices), np.array(box.faces)
    label = patches(vertices, triangles)
    assert len(np.unique(label)) == 6
    made = corners(vertices, triangles, label)
    assert len(made.at) == 24
    assert np.abs(made.normals).max(axis=1) == pytest.approx(1.0)
    assert made.normals[made.corner[:, 0]] == pytest.approx(made.flat, abs=1e-12)


def test_the_side_of_a_cylinder_is_one_patch_with_round_normals():
    tube = trimesh.creation.cylinder(10.0, 5.0, sections=48)
    vertices, triangles = np.array(tube.vertices), np.array(tube.faces)
    label = patches(vertices, triangles)
    assert len(np.unique(label)) == 3
    made = corners(vertices, triangles, label)
    side = np.abs(made.normals[:, 2]) < 0.5
    outwards = vertices[made.at[side]] * [1, 1, 0] / 10.0
    # Weights by area lean a normal by less than half a facet's turn, 360°/48.
    assert ((outwards * made.normals[side]).sum(axis=1) > np.cos(np.radians(3.75))).all()


def test_crosses_are_twice_the_area_and_edges_are_shared():
    box = trimesh.creation.box((2, 3, 4))
    areas = np.linalg.norm(crosses(np.array(box.vertices), np.array(box.faces)), axis=1)
    assert areas.sum() / 2 == pytest.approx(2 * (6 + 8 + 12))
    pairs, side = edges(np.array(box.faces))
    assert len(pairs) == 18
    assert np.bincount(side.ravel()).tolist() == [2] * 18
