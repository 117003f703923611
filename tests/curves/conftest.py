"""Floating-point faults raise in the tests of curves."""

from collections.abc import Iterator

import numpy as np
import pytest


@pytest.fixture(autouse=True)
def numpy_errors_raise() -> Iterator[None]:
    with np.errstate(divide="raise", over="raise", invalid="raise"):
        yield
