import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.solids.smooth import edges
from stackview.solids.solid import Face
from stackview.stills.refine import facets, subdivided
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


def area(vertices, triangles):
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    return np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2


def volume(vertices, triangles):
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    return (a * np.cross(b, c)).sum() / 6


@pytest.mark.parametrize("lamp", [lamps.hexagons, lamps.drum, lamps.lantern])
def test_solids_stay_closed_with_the_same_area_and_volume(lamp):
    for part in lamp().placed:
        solid = part.solid
        vertices, triangles, parents = subdivided(solid.vertices, solid.triangles, 7.0, 10**9)
        _, side = edges(triangles)
        assert (np.bincount(side.ravel()) == 2).all(), part.name
        assert area(vertices, triangles) == pytest.approx(area(solid.vertices, solid.triangles), rel=1e-9)
        assert volume(vertices, triangles) == pytest.approx(volume(solid.vertices, solid.triangles), rel=1e-9)
        assert len(parents) == len(triangles)


@settings(max_examples=80, deadline=None)
@given(st.lists(st.floats(-40, 40), min_size=6, max_size=6), st.floats(3, 30))
def test_any_triangle_is_covered_once_by_pieces_with_its_own_turn(numbers, edge):
    vertices = np.concatenate([np.array(numbers).reshape(3, 2), np.zeros((3, 1))], axis=1)
    a, b, c = vertices
    if np.cross(b - a, c - a)[2] < 1e-3:
        return
    triangle = np.array([[0, 1, 2]])
    fine, pieces, parents = subdivided(vertices, triangle, edge, 10**9)
    a, b, c = (fine[pieces[:, k]] for k in range(3))
    signed = np.cross(b - a, c - a)[:, 2] / 2
    assert (signed > -1e-9).all()
    assert signed.sum() == pytest.approx(area(vertices, triangle), rel=1e-9)
    assert (parents == 0).all()
    outline = np.bincount(edges(pieces)[1].ravel())
    assert outline.max() <= 2


def test_edges_between_pieces_are_short():
    vertices = np.array([[0.0, 0, 0], [90, 0, 0], [0, 70, 0]])
    fine, pieces, _ = subdivided(vertices, np.array([[0, 1, 2]]), 7.0, 10**9)
    ends, _ = edges(pieces)
    lengths = np.linalg.norm(fine[ends[:, 0]] - fine[ends[:, 1]], axis=1)
    # Edges of the triangle itself keep the limit; rungs inside may cross a cell.
    assert lengths.max() < 14


def test_a_needle_makes_a_ladder_and_not_dust():
    # 100 mm by 1 mm at 7 mm: 16 parts a side, so 2·16 − 1 pieces.
    vertices = np.array([[0.0, 0, 0], [100, 0, 0], [100, 1, 0]])
    _, pieces, _ = subdivided(vertices, np.array([[0, 1, 2]]), 7.0, 10**9)
    assert len(pieces) == 31


def test_short_edges_stay_and_too_many_pieces_are_avoided():
    solid = lamps.gallows().placed[0].solid
    assert len(subdivided(solid.vertices, solid.triangles, 1e6, 10**9)[1]) == len(solid.triangles)
    assert len(subdivided(solid.vertices, solid.triangles, 0.1, 3000)[1]) < 5000
