"""What the tests of solids share: a layer in one call, and the check that a mesh is watertight."""

from collections.abc import Callable, Iterator

import numpy as np
import pytest

from stackview.description.lamp import Layer
from stackview.description.material import Material
from stackview.description.outline import Outline
from stackview.solids.measure import volume
from stackview.solids.solid import Solid

WALNUT = Material("walnut", "wood", "walnut", "opaque", 610.0, (0.2, 0.1, 0.05))


@pytest.fixture(autouse=True)
def numpy_errors_raise() -> Iterator[None]:
    with np.errstate(divide="raise", over="raise", invalid="raise"):
        yield


@pytest.fixture(scope="session")
def layer() -> Callable[..., Layer]:
    def make(shape: object, thickness: float, **fields: object) -> Layer:
        outline = shape if isinstance(shape, Outline) else Outline(shape)
        return Layer("plate", WALNUT, thickness, outline, **fields)

    return make


@pytest.fixture(scope="session")
def watertight() -> Callable[[Solid], None]:
    """Every edge is shared by exactly two triangles that run along it in opposite directions."""

    def check(solid: Solid) -> None:
        t = solid.triangles
        edges = np.concatenate((t[:, [0, 1]], t[:, [1, 2]], t[:, [2, 0]]))
        n = len(solid.vertices)
        there = np.sort(edges[:, 0] * n + edges[:, 1])
        back = np.sort(edges[:, 1] * n + edges[:, 0])
        assert (np.diff(there) > 0).all()
        assert (there == back).all()
        assert volume(solid) > 0.0
        assert len(solid.faces) == len(t)

    return check
