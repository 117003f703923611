import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stackview.solids.smooth import edges
from stackview.stills.subdivide import subdivided
from tests.stills import lamps


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
