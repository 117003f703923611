"""Sheet tolerances as printed by their standards, and how deviations add up."""

from dataclasses import replace

import pytest

from stackview.checks.sheet import birch_plywood, cast_acrylic, extruded_acrylic, spread_of, worst_and_rss
from tests.checks.subjects import CLEAR, default_limits, sheet
from tests.stack.layers import circle, plate


@pytest.mark.parametrize(("thickness", "tolerance"), [(3.0, 0.70), (5.0, 0.90), (10.0, 1.40)])
def test_cast_acrylic(thickness: float, tolerance: float) -> None:
    # ISO 7823-1 cast sheet ±(0.4 + 0.1 h), as printed by sheet makers.
    assert cast_acrylic(thickness) == pytest.approx(tolerance, abs=1e-12)


@pytest.mark.parametrize(("thickness", "tolerance"), [(2.0, 0.2), (3.0, 0.15), (5.0, 0.25)])
def test_extruded_acrylic(thickness: float, tolerance: float) -> None:
    # ISO 7823-2 extruded sheet: ±10 % under 3 mm, ±5 % from 3 mm, as printed by sheet makers.
    assert extruded_acrylic(thickness) == pytest.approx(tolerance, abs=1e-12)


@pytest.mark.parametrize(
    ("sold", "nominal", "least", "greatest"),
    [(6.5, 6.4, 6.1, 6.9), (9.0, 9.2, 8.8, 9.5), (12.0, 12.0, 11.5, 12.5), (18.0, 17.7, 17.1, 18.1)],
)
def test_birch_plywood(sold: float, nominal: float, least: float, greatest: float) -> None:
    # Birch plywood, trade data sheet.
    assert birch_plywood(sold) == pytest.approx(max(nominal - least, greatest - nominal))


def test_published_tolerance_stack() -> None:
    # 40±.10 − 25±.05 − 2±.03 − 10±.05 = 3.00: worst case ±0.23, root sum of squares ±0.126095
    # (published worked example).
    worst, rss = worst_and_rss([0.10, -0.05, -0.03, -0.05])
    assert worst == pytest.approx(0.23, abs=1e-12)
    assert rss == pytest.approx(0.126095, abs=5e-7)


def test_root_sum_of_squares_example() -> None:
    # √(.005² + .003² + .002²) = .006164; with .005 more .007937 (published worked example).
    assert worst_and_rss([0.005, 0.003, 0.002])[1] == pytest.approx(0.006164, abs=5e-7)
    assert worst_and_rss([0.005, 0.003, 0.002, 0.005])[1] == pytest.approx(0.007937, abs=5e-7)


def test_what_was_measured_counts_by_the_caliper() -> None:
    limits = default_limits()
    measured = replace(plate("plate", circle(80.0), 3.8), material=sheet(CLEAR, 4.0, 3.8))
    sold = replace(plate("plate", circle(80.0), 4.0), material=sheet(CLEAR, 4.0))
    assert spread_of(measured, limits).by == limits.value("caliper")
    assert spread_of(sold, limits).by == pytest.approx(0.8)  # 0.4 + 0.1 · 4
    assert "7823-1" in spread_of(sold, limits).source
    extruded = replace(sold, material=replace(sold.material, extruded=True))
    assert spread_of(extruded, limits).by == pytest.approx(0.2)  # 5 % of 4
    assert "7823-2" in spread_of(extruded, limits).source
