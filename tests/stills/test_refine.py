import numpy as np
import pytest

from stackview.solids.solid import Face
from stackview.stills.refine import facets
from tests.stills import lamps


def meshes_of(*manifolds):
    solids = [lamps.solid_of(manifold) for manifold in manifolds]
    return [(solid.vertices, solid.triangles, solid.faces) for solid in solids]


def test_a_cube_has_three_corners_at_each_vertex_with_square_normals():
    cube = lamps.prism([np.array([[-5.0, -5], [5, -5], [5, 5], [-5, 5]])], 0, 10)
    made = facets(meshes_of(cube), [0], edge=100)
    assert len(made.vertices) == 8
    assert len(made.at) == 24
    assert np.abs(made.normals).max(axis=1) == pytest.approx(np.ones(24), abs=1e-6)


def test_a_round_side_is_smooth_and_its_rim_sharp():
    made = facets(meshes_of(lamps.prism([lamps.circle(20, 60)], 0, 10)), [0], edge=100)
    # 6° between facets is smooth, 90° at the rims is not: two corners a vertex.
    assert len(made.at) == 2 * len(made.vertices)
    upright = np.abs(made.normals[:, 2]) < 0.5
    at = made.vertices[made.at[upright]]
    outwards = at[:, :2] / np.linalg.norm(at[:, :2], axis=1, keepdims=True)
    assert (made.normals[upright, :2] * outwards).sum(axis=1).min() > 0.998


def test_a_few_facets_stay_facets():
    # A hexagon turns by 60° at each corner, more than the 28° that still count as smooth.
    made = facets(meshes_of(lamps.prism([lamps.circle(20, 6)], 0, 10)), [0], edge=100)
    assert len(made.at) == 3 * len(made.vertices)


def test_parts_and_faces_are_kept_through_refining():
    low, high = lamps.prism([lamps.circle(20)], 0, 10), lamps.prism([lamps.circle(20)], 10, 20)
    made = facets(meshes_of(low, high), [3, 7], edge=5)
    assert set(made.part) == {3, 7}
    assert set(made.owner) == {3, 7}
    top = made.face == Face.TOP
    assert made.flat[top] == pytest.approx(np.tile([0, 0, 1], (top.sum(), 1)), abs=1e-6)
    heights = made.vertices[made.triangles[top & (made.part == 3)]][..., 2]
    assert heights == pytest.approx(np.full(heights.shape, 10), abs=1e-5)


def test_nothing_gives_nothing():
    made = facets([], [], edge=5)
    assert made.triangles.shape == (0, 3)
    assert made.normals.shape == (0, 3)
