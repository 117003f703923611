import numpy as np
import pytest

from stackview.description.curve_limits import MOST_ACROSS, CurveError, check_near, check_reach
from stackview.description.units import MILLIMETRES


@pytest.mark.parametrize("far", [1e15, -1e300, float("inf"), float("nan")])
def test_what_lies_beyond_all_measure_or_nowhere_is_refused(far: float) -> None:
    check_near([0j, 1e9 + 1e9j], MILLIMETRES)
    for point in (complex(far, 0.0), complex(0.0, far)):
        with pytest.raises(CurveError, match="from the drawing's zero"):
            check_near([0j, point], MILLIMETRES)


def test_a_control_point_that_is_refused_always_makes_a_curve_too_large() -> None:
    """B(t) = 3t(1−t)²·P₁ + 3t²(1−t)·P₂, for the farther point 1 away and the other anywhere nearer."""
    t = np.linspace(0.0, 1.0, 201)
    first, second = 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t)
    others = np.linspace(0.0, 1.0, 41)[:, None] * np.exp(1j * np.linspace(0.0, np.pi, 61))
    least = np.abs(first + others.reshape(-1, 1) * second).max(axis=1).min()
    assert least > 0.28
    with pytest.raises(CurveError, match="5000 mm: check its unit"):
        check_reach(0j, [1 + 0j, complex(0.0, 50_001.0)], MILLIMETRES)
    assert 2 * MOST_ACROSS < 0.28 * 50_000
