"""A solid: one watertight triangle mesh whose every triangle knows what face it belongs to."""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray


class Face(IntEnum):
    """What a triangle belongs to, in the words of the trade."""

    TOP = 0
    UNDERSIDE = 1
    OUTER = 2
    OPENING = 3
    RECESS_FLOOR = 4
    RECESS_WALL = 5
    GROOVE = 6
    CHAMFER = 7
    BORE = 8

    @property
    def word(self) -> str:
        """The word shown to the maker."""
        return self.name.lower().replace("_", " ")


@dataclass(frozen=True, slots=True, eq=False)
class Solid:
    """A watertight mesh with outward normals.

    vertices : (n, 3) float64 [mm], triangles : (m, 3) int64 counter-clockwise from outside,
    faces : (m,) int8 of :class:`Face`. All read-only.
    """

    vertices: NDArray[np.float64]
    triangles: NDArray[np.int64]
    faces: NDArray[np.int8]

    def __post_init__(self) -> None:
        for array in (self.vertices, self.triangles, self.faces):
            array.setflags(write=False)
