import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.stills.noise import NOISE_CELLS, fractal, noise

PLACE = st.floats(-1000, 1000, width=32)


@given(PLACE, PLACE)
def test_noise_keeps_within_its_range(x, y):
    assert -1 <= noise(np.float32(x), np.float32(y)) <= 1
    assert -1 <= fractal(np.float32(x), np.float32(y), 3) <= 1


def test_noise_is_smooth_balanced_and_periodic():
    x = np.linspace(0, 50, 5001)
    line = noise(x, np.float32(3.3))
    # Smoothstep rises by at most 1.5 a cell, between values no farther apart than 2.
    assert np.abs(np.diff(line)).max() <= 3 * 0.01 + 1e-5
    columns, rows = np.meshgrid(np.arange(NOISE_CELLS), np.arange(NOISE_CELLS))
    # Uniform on −1 to 1: mean 0, variance 1/3.
    values = noise(columns.astype(np.float32), rows.astype(np.float32))
    assert values.mean() == pytest.approx(0, abs=0.01)
    assert values.var() == pytest.approx(1 / 3, abs=0.01)
    assert noise(np.float32(7.25), np.float32(9.5)) == noise(np.float32(7.25 + NOISE_CELLS), np.float32(9.5))


def test_cells_are_not_alike():
    columns, rows = np.meshgrid(np.arange(NOISE_CELLS), np.arange(NOISE_CELLS))
    values = noise(columns.astype(np.float32), rows.astype(np.float32))
    for axis in (0, 1):
        neighbours = np.corrcoef(values.ravel(), np.roll(values, 1, axis).ravel())[0, 1]
        assert abs(neighbours) < 0.02
