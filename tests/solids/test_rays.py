import numpy as np
import pytest

from stackview.solids.rays import target

SQUARE = np.array([[-50.0, -50, 0], [50, -50, 0], [50, 50, 0], [-50, 50, 0]])
TWO = np.array([[0, 1, 2], [0, 2, 3]])


def straight_down(count=1, start=100.0):
    return (
        np.tile(np.array([[3, 4, start]], np.float32), (count, 1)),
        np.tile(np.array([[0, 0, -1]], np.float32), (count, 1)),
    )


def test_nearest_gives_triangle_distance_and_place():
    hits = target(SQUARE, TWO).nearest(*straight_down())
    assert hits.distance[0] == pytest.approx(100, abs=1e-4)
    a, b, c = SQUARE[TWO[hits.triangle[0]]]
    u, v = hits.u[0], hits.v[0]
    assert a * (1 - u - v) + b * u + c * v == pytest.approx(np.array([3, 4, 0]), abs=1e-4)


def test_a_miss_is_infinitely_far():
    origins, directions = straight_down()
    hits = target(SQUARE, TWO).nearest(origins, -directions)
    assert hits.triangle[0] == -1
    assert hits.distance[0] == np.inf


def test_blocked_only_within_reach():
    screen = target(SQUARE, TWO)
    origins, directions = straight_down(2)
    assert screen.blocked(origins, directions, np.array([99, 101], np.float32)).tolist() == [False, True]


def test_no_triangles_block_nothing():
    empty = target(np.zeros((0, 3)), np.zeros((0, 3), np.int64))
    origins, directions = straight_down(3)
    assert not empty.blocked(origins, directions, np.full(3, 1e9, np.float32)).any()
    assert (empty.nearest(origins, directions).triangle == -1).all()
