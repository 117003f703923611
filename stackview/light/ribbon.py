"""The strip itself as a thin ribbon, for pictures and drawings; it blocks nothing on its own.

Light points sit on the ribbon's outer side and look away from it, so that it can only ever
hide what their own backs hide already.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import read_only
from stackview.one_line import one_line


@dataclass(frozen=True, slots=True, eq=False)
class Ribbon:
    """A ribbon's two long edges, point for point: low, high : (n, 3) [mm]; normal : (n, 3) outwards."""

    low: NDArray[np.float64]
    high: NDArray[np.float64]
    normal: NDArray[np.float64]

    __repr__ = one_line

    def __post_init__(self) -> None:
        read_only((self.low, self.high, self.normal))
