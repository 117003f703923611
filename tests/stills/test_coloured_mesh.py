import numpy as np
import pytest

from stackview.light.ribbon import Ribbon
from stackview.stills.coloured_mesh import STRIP, strip_mesh


@pytest.mark.parametrize("outwards", [1.0, -1.0])
def test_a_strip_is_its_width_times_its_length_and_faces_outwards(outwards):
    x = np.linspace(0, 100, 21)
    low = np.stack([x, 0 * x, 0 * x], axis=1)
    high = low + np.array([0, 0, 8.0])
    normal = np.tile([0.0, outwards, 0.0], (21, 1))
    mesh = strip_mesh(Ribbon(low, high, normal))
    a, b, c = (mesh.vertices[mesh.triangles[:, k]] for k in range(3))
    square = np.cross(b - a, c - a) / 2
    assert np.linalg.norm(square, axis=1).sum() == pytest.approx(800)
    assert (square[:, 1] * outwards > 0).all()
    assert mesh.colour == STRIP
    assert not mesh.vertices.flags.writeable
