"""Plain coloured surfaces that are drawn with the lamp, such as its light strip."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.light.ribbon import Ribbon

STRIP = (0.72, 0.70, 0.65)
"""Colour of a light strip's carrier, linear sRGB: white with a warm tinge, common practice."""


@dataclass(frozen=True, slots=True, eq=False)
class ColouredMesh:
    """Triangles of one colour; need not be closed, both sides are drawn.

    vertices : (n, 3) [mm], triangles : (m, 3), colour : linear sRGB 0 to 1. Arrays are read-only.
    """

    vertices: NDArray[np.float64]
    triangles: NDArray[np.int64]
    colour: tuple[float, float, float]

    def __post_init__(self) -> None:
        for array in (self.vertices, self.triangles):
            array.setflags(write=False)


def strip_mesh(ribbon: Ribbon) -> ColouredMesh:
    """Surface of a strip between its two long edges, facing the way its normals do."""
    count = len(ribbon.low)
    k = np.arange(count - 1)
    first = np.stack([k, k + 1, k + count + 1], axis=1)
    second = np.stack([k, k + count + 1, k + count], axis=1)
    triangles = np.concatenate([first, second])
    vertices = np.concatenate([ribbon.low, ribbon.high])
    a, b, c = (vertices[triangles[:, corner]] for corner in range(3))
    inwards = (np.cross(b - a, c - a) * ribbon.normal[triangles[:, 0] % count]).sum(axis=1) < 0
    triangles[inwards] = triangles[inwards][:, ::-1]
    return ColouredMesh(vertices, triangles.astype(np.int64), STRIP)
