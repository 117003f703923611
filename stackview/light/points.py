"""Light points: every LED's light-giving face, placed in the lamp's frame."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.one_line import one_line


@dataclass(frozen=True, slots=True, eq=False)
class LightPoints:
    """All light points of a lamp, in order along each strip. Arrays are read-only.

    centres : (n, 3) [mm]; directions : (n, 3) unit vectors out of the face;
    corners : (n, 4, 3) of the face [mm], (n, 0, 3) where they do not matter; beams : (n,) full angle [°];
    lumens : (n,) (nan where not given); kelvin : (n,); source : (n,) index of the light.
    """

    centres: NDArray[np.float64]
    directions: NDArray[np.float64]
    corners: NDArray[np.float64]
    beams: NDArray[np.float64]
    lumens: NDArray[np.float64]
    kelvin: NDArray[np.float64]
    source: NDArray[np.int64]

    __repr__ = one_line

    def __post_init__(self) -> None:
        for name in self.__slots__:
            getattr(self, name).setflags(write=False)

    def middles(self) -> "LightPoints":
        """The same points without their faces' corners, for questions that only their middles answer."""
        return replace(self, corners=self.corners[:, :0])

    def __len__(self) -> int:
        return len(self.centres)
