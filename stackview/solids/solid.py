"""A solid: one watertight triangle mesh whose every triangle knows what face it belongs to."""

from dataclasses import dataclass, field
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


class SheetFace(IntEnum):
    """The three kinds of face that a sheet's finish is given for."""

    TOP = 0
    UNDERSIDE = 1
    EDGE = 2


def sheet_faces(faces: NDArray[np.int8], up: NDArray[np.floating]) -> NDArray[np.int8]:
    """Which finish each triangle takes: (m,) of :class:`SheetFace`.

    ``faces`` (m,) of :class:`Face`; ``up`` (m,) is the z of the triangles' normals, of any length.
    The floor of a recess or groove counts as the face that it is cut from; their walls, like
    chamfers and bores, count as edges.
    """
    floor = np.isin(faces, (Face.RECESS_FLOOR, Face.GROOVE))
    top = (faces == Face.TOP) | (floor & (up > 0.0))
    underside = (faces == Face.UNDERSIDE) | (floor & (up < 0.0))
    return np.where(top, SheetFace.TOP, np.where(underside, SheetFace.UNDERSIDE, SheetFace.EDGE)).astype(
        np.int8
    )


@dataclass(frozen=True, slots=True, eq=False, repr=False, weakref_slot=True)
class Solid:
    """A watertight mesh with outward normals.

    vertices : (n, 3) float64 [mm], triangles : (m, 3) int64 counter-clockwise from outside,
    faces : (m,) int8 of :class:`Face`. All read-only. A solid is only equal to itself; solids that
    are made and placed alike in one process are the same object, so that what is worked out of
    one can be kept for it (:mod:`stackview.by_value`).
    """

    vertices: NDArray[np.float64]
    triangles: NDArray[np.int64]
    faces: NDArray[np.int8]
    lift: float = field(default=0.0, init=False)
    """How far it was lifted above where it was made [mm]."""
    _ground: "Solid | None" = field(default=None, init=False)

    def __post_init__(self) -> None:
        for array in (self.vertices, self.triangles, self.faces):
            array.setflags(write=False)

    @property
    def ground(self) -> "Solid":
        """The solid where it was made, from which this one was lifted: itself if it was not.

        What does not change with height (volume, edges, normals) is the same for both.
        """
        return self if self._ground is None else self._ground

    def is_alike(self, other: "Solid") -> bool:
        """Whether both are the same object, or the same mesh in the same place: one may have been made anew."""
        return self is other or (
            np.array_equal(self.vertices, other.vertices)
            and np.array_equal(self.triangles, other.triangles)
            and np.array_equal(self.faces, other.faces)
        )

    def lifted(self, by: float) -> "Solid":
        """The solid ``by`` [mm] higher than it is."""
        vertices = np.array(self.ground.vertices)
        vertices[:, 2] += self.lift + by
        found = Solid(vertices, self.triangles, self.faces)
        # Set past the constructor, so that no replaced mesh can claim to be another one lifted.
        object.__setattr__(found, "lift", self.lift + by)
        object.__setattr__(found, "_ground", self.ground)
        return found

    @property
    def bytes(self) -> int:
        """Memory that its arrays take."""
        return self.vertices.nbytes + self.triangles.nbytes + self.faces.nbytes

    def __repr__(self) -> str:
        """One line, without the arrays."""
        lifted = f", lifted {self.lift:g} mm" if self.lift else ""
        return f"Solid({len(self.vertices)} vertices, {len(self.triangles)} triangles{lifted})"
