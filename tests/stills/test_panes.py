import numpy as np
import pytest

from stackview.solids.rays import target
from stackview.stills.panes import Panes, crossed

SQUARE = np.array([[-50.0, -50, 0], [50, -50, 0], [50, 50, 0], [-50, 50, 0]])
TWO = np.array([[0, 1, 2], [0, 2, 3]])


def slabs(*spans):
    """Horizontal faces of slabs that reach from low to high, tops facing up."""
    vertices, triangles, flat = [], [], []
    for low, high in spans:
        for z, up in ((high, 1), (low, -1)):
            triangles.append(TWO[:, ::up] + 4 * len(vertices))
            vertices.append(SQUARE + np.array([0, 0, z]))
            flat += [[0, 0, up]] * 2
    return np.concatenate(vertices), np.concatenate(triangles), np.array(flat, np.float32)


def straight_down(count=1, start=100.0):
    return (
        np.tile(np.array([[3, 4, start]], np.float32), (count, 1)),
        np.tile(np.array([[0, 0, -1]], np.float32), (count, 1)),
    )


def test_light_is_dimmed_once_by_each_body_it_crosses():
    vertices, triangles, flat = slabs((40, 44), (60, 64))
    panes = Panes(target(vertices, triangles), flat, np.full(len(triangles), 0.5, np.float32))
    origins, directions = straight_down(3)
    share, inside = crossed(panes, origins, directions, np.array([20, 50, 90], np.float32))
    assert share == pytest.approx([1.0, 0.5, 0.25])
    assert inside == pytest.approx([0, 0, 0])


def test_the_way_inside_the_body_at_the_end_is_measured():
    vertices, triangles, flat = slabs((40, 50))
    panes = Panes(target(vertices, triangles), flat, np.full(len(triangles), 0.5, np.float32))
    origins, directions = straight_down()
    share, inside = crossed(panes, origins, directions, np.array([57], np.float32))
    assert share == pytest.approx([1.0])
    assert inside == pytest.approx([7], abs=1e-3)
