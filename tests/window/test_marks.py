"""Rings and bands in pixels."""

import numpy as np
import pytest

from stackview.window.marks import NONE, bands, marks_joined, rings


def area(corners: np.ndarray, triangles: np.ndarray) -> float:
    a, b, c = (corners[triangles[:, k]].astype(float) for k in range(3))
    return float(np.abs((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]).sum() / 2)


def test_a_ring_is_open_in_the_middle() -> None:
    found = rings(np.array([[100.0, 50.0]], np.float32), 8.0)
    away = np.hypot(*(found.corners - [100.0, 50.0]).T)
    assert away.min() > 5.0
    assert away.max() == pytest.approx(10.6, abs=1e-4)
    # Two rings of a 20-sided polygon, one over the other: ½ n sin(2π/n)(R² − r²) each.
    share = 10 * np.sin(2 * np.pi / 20)
    expected = share * (10.6**2 - 5.4**2) + share * (9.4**2 - 6.6**2)
    assert area(found.corners, found.triangles) == pytest.approx(expected, rel=1e-4)


def test_rings_keep_to_their_places() -> None:
    at = np.array([[10.0, 10.0], [200.0, 40.0], [70.0, 90.0]], np.float32)
    found = rings(at, 6.0)
    nearest = np.linalg.norm(found.corners[:, None] - at[None], axis=2).min(axis=1)
    assert nearest.max() < 9.0
    assert found.triangles.max() < len(found.corners)


def test_bands_are_thin_on_the_far_side() -> None:
    ends = np.array([[[0, 0], [100, 0]], [[0, 50], [100, 50]]], np.float32)
    found = bands(ends, np.array([True, False]))
    wide = {int(y > 25): np.ptp(found.corners[(found.corners[:, 1] > 25) == (y > 25), 1]) for y in (0, 50)}
    assert wide[0] < wide[1]


def test_nothing_to_mark() -> None:
    assert marks_joined([]) is NONE
    assert len(rings(np.zeros((0, 2), np.float32), 5.0).triangles) == 0
