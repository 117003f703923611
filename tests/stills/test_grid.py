import numpy as np
import pytest

from stackview.stills.grid import GRID_CELLS, faded, grid, on_ground, softened, uncovered

REACH = 55.0


def test_a_plane_is_read_back_exactly_between_cells():
    at = grid(REACH)
    values = np.stack([at[:, 0], at[:, 1], at[:, 0] - 2 * at[:, 1]], axis=1).reshape(
        GRID_CELLS, GRID_CELLS, 3
    )
    x, y = np.random.default_rng(1).uniform(-REACH, REACH, (2, 200)).astype(np.float32)
    assert on_ground(values, REACH, x, y) == pytest.approx(np.stack([x, y, x - 2 * y], axis=1), abs=1e-3)


def test_beyond_the_rim_the_rim_holds():
    values = np.ones((GRID_CELLS, GRID_CELLS, 3), np.float32)
    far = np.array([-1e6, 1e6, 0], np.float32)
    assert on_ground(values, REACH, far, far) == pytest.approx(np.ones((3, 3)))


def test_covered_cells_take_their_neighbours_light():
    covered = np.zeros((GRID_CELLS, GRID_CELLS), bool)
    covered[50:54, 40:60] = True
    values = np.full((GRID_CELLS, GRID_CELLS, 3), 0.7, np.float32)
    values[covered] = 0
    filled = uncovered(values.reshape(-1, 3), covered.ravel())
    assert filled == pytest.approx(np.full_like(filled, 0.7))


def test_softening_keeps_the_sum_and_fading_runs_out():
    values = np.zeros((GRID_CELLS, GRID_CELLS, 3), np.float32)
    values[60, 60] = 8
    assert softened(values).sum() == pytest.approx(24, rel=1e-5)
    out = faded(values + 0.5, 1.0)
    assert out[0] == pytest.approx(np.ones((GRID_CELLS, 3)))
    assert out[GRID_CELLS // 2, GRID_CELLS // 2] == pytest.approx(np.full(3, 0.5))
