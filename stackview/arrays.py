"""The kinds of arrays that are passed about, by what they hold; shapes and units stand where they are passed."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
"""Geometry and light, where a rounding error could be seen."""
Singles = NDArray[np.float32]
"""Pictures and rays, where seven figures are enough and there are millions of them."""
Whole = NDArray[np.int64]
"""Counts and places in other arrays."""
Ints = NDArray[np.int32]
"""The same as Embree gives them."""
Yes = NDArray[np.bool_]
"""Which of them."""
Bytes = NDArray[np.uint8]
"""Pictures as they are shown."""
