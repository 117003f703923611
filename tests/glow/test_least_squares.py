"""Least squares: straight lines against numpy, a curve that is known, and what is expected beforehand."""

import numpy as np
import pytest

from stackview.glow.least_squares import least_squares


def test_a_straight_line_is_that_of_the_normal_equations() -> None:
    rng = np.random.default_rng(1)
    design, seen = rng.normal(size=(30, 3)), rng.normal(size=30)
    found = least_squares(lambda values: design @ values - seen, np.zeros(3))
    expected, rest, *_ = np.linalg.lstsq(design, seen)
    assert found.values == pytest.approx(expected, abs=1e-3)
    assert found.cost == pytest.approx(float(rest[0]), rel=1e-3)


def test_a_bell_is_found_from_afar() -> None:
    at = np.linspace(-3.0, 3.0, 60)

    def left_over(values: np.ndarray) -> np.ndarray:
        return 20.0 * (np.exp(values[0] - 0.5 * (at * np.exp(-values[1])) ** 2) - 2.0 * np.exp(-(at**2)))

    # exp(−x²) is exp(−½(x/s)²) with s = 1/√2.
    found = least_squares(left_over, np.array([0.0, 0.8])).values
    assert np.exp(found) == pytest.approx([2.0, 1.0 / np.sqrt(2.0)], rel=5e-3)


def test_what_is_expected_beforehand_counts_as_much_as_its_error_says() -> None:
    # Measured 3 ± 1, expected 0 ± 1: 1.5 (mean of two equal weights).
    found = least_squares(lambda values: np.array([values[0] - 3.0, values[0]]), np.zeros(1))
    assert found.values[0] == pytest.approx(1.5, abs=1e-3)
    assert found.cost == pytest.approx(4.5, rel=1e-4)
