"""Light points: read-only, counted, and their middles without corners."""

from dataclasses import fields

import numpy as np
import pytest

from tests.lamps import light_points, wound

POINTS = wound(12, 0.0, 100.0)


def test_arrays_are_read_only() -> None:
    for field in fields(POINTS):
        array = getattr(POINTS, field.name)
        assert not array.flags.writeable
        with pytest.raises(ValueError, match="read-only"):
            array[...] = 0


def test_they_are_counted() -> None:
    assert len(POINTS) == 12
    assert len(light_points([], [])) == 0


def test_middles_leave_only_the_corners_out() -> None:
    middles = POINTS.middles()
    assert middles.corners.shape == (12, 0, 3)
    for field in fields(POINTS):
        if field.name != "corners":
            assert np.array_equal(getattr(middles, field.name), getattr(POINTS, field.name), equal_nan=True)
    assert POINTS.corners.shape == (12, 4, 3)
    assert middles.middles().corners.shape == (12, 0, 3)
