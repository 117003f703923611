"""The picture of the grain: every triangle has texels of its own and no other's."""

import numpy as np
import pytest

from stackview.stills.surface import surface_colour
from stackview.window.grain import BRIGHTER, CURVE, LEG, SQUARE, grain_places, marks
from stackview.window.shown import Shown


@pytest.mark.parametrize("count", [1, 2, 3, 17, 400])
def test_texels_of_triangles_are_apart(count: int) -> None:
    at, width = grain_places(count)
    assert at.shape == (3 * count, 2)
    assert width % SQUARE == 0
    texel = at.reshape(count, 3, 2) * width - 0.5
    assert np.allclose(texel, np.rint(texel), atol=1e-3)
    owned: set[tuple[int, int]] = set()
    for triangle in texel:
        # All texels that interpolation between texels can read within it.
        weights = np.random.default_rng(0).dirichlet([0.6] * 3, 300)
        inside = weights @ triangle
        low = np.floor(inside + 1e-6).astype(int)
        here = {
            (int(x + i), int(y + j))
            for (x, y), (u, v) in zip(low, inside - low, strict=True)
            for i in (0, 1)
            for j in (0, 1)
            if (u if i else 1 - u) > 1e-3 and (v if j else 1 - v) > 1e-3
        }
        assert not owned & here
        owned |= here
    assert np.linalg.norm(texel[0, 1] - texel[0, 0]) == LEG


def test_marks_are_shares_of_the_raised_colour() -> None:
    mean = (0.4, 0.3, 0.2)
    assert marks(np.array([mean], np.float32) * BRIGHTER, mean) == pytest.approx(np.ones((1, 3)))
    assert marks(np.array([mean], np.float32), mean) == pytest.approx(
        np.full((1, 3), BRIGHTER**-CURVE), rel=1e-5
    )


def test_texels_hold_the_pictures_own_grain(honeycomb: Shown) -> None:
    mesh = honeycomb.baked.walls
    wooden = [k for k, part in enumerate(honeycomb.baked.placed) if part.material.kind == "wood"]
    chosen = np.flatnonzero(np.isin(mesh.part, wooden))[::997]
    at, width = grain_places(len(mesh.triangles))
    for triangle in chosen.tolist():
        part = honeycomb.baked.placed[mesh.part[triangle]]
        column, row = np.rint(at[3 * triangle] * width - 0.5).astype(int)
        corner = mesh.vertices[mesh.triangles[triangle, :1]]
        edges = mesh.vertices[mesh.triangles[triangle, 1]] - corner[0]
        size = np.array([min(0.6 * np.linalg.norm(edges) / LEG, 0.5)], np.float32)
        own = surface_colour(part, corner, mesh.flat[triangle][None], size)
        expected = 255 * marks(own, part.material.colour)[0]
        assert honeycomb.grain[row, column] == pytest.approx(expected, abs=1.0)
