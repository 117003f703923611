"""Illuminance on the table: cosine law at a printed example, and how far the point rule carries."""

import numpy as np
import pytest

from stackview.glow.intensity import Intensity, even_gammas, even_planes
from stackview.glow.table_light import illuminance_at, mean_around


def even(candela: float) -> Intensity:
    return Intensity(even_planes(), even_gammas(), np.full((72, 73), candela))


def test_printed_example_of_the_cosine_law() -> None:
    # 628 lm isotropic, 1 m away, 37° off the vertical: 50 cd, 39.9 lx (printed rounded to 40).
    angle = np.radians(37.0)
    place = illuminance_at(
        even(628.0 / (4 * np.pi)),
        distance=1000.0 * np.sin(angle), height=1000.0 * np.cos(angle), bearing=77.0, size=100.0,
    )  # fmt: skip
    assert place.lux == pytest.approx(39.9, abs=0.05)
    assert place.far


def test_straight_below_it_is_intensity_over_distance_squared() -> None:
    assert illuminance_at(even(9.0), distance=0.0, height=3000.0, bearing=0.0, size=1.0).lux == pytest.approx(
        1.0
    )


def test_the_point_rule_ends_at_five_lamp_sizes() -> None:
    for distance, far in ((400.0, True), (399.9, False)):
        place = illuminance_at(even(9.0), distance=distance, height=300.0, bearing=0.0, size=100.0)
        assert place.far is far
    # Lambertian disc, E = πLR²/(R² + d²), against I/d² at five diameters: 1 % apart.
    assert pytest.approx(0.99, abs=2e-4) == 1.0 / (1.0 + (0.5 / 5.0) ** 2)


def test_light_to_one_side_falls_on_that_side() -> None:
    planes, gammas = even_planes(), even_gammas()
    candela = np.outer((np.abs(planes - 90.0) < 45.0).astype(float), np.ones(73))
    candela[:, [0, -1]] = candela[:, [0, -1]].mean()
    lamp = Intensity(planes, gammas, candela)
    right = illuminance_at(lamp, distance=500.0, height=100.0, bearing=90.0, size=100.0)
    left = illuminance_at(lamp, distance=500.0, height=100.0, bearing=-90.0, size=100.0)
    assert right.lux > 0.0
    assert left.lux == 0.0
    mean = mean_around(lamp, distance=500.0, height=100.0, size=100.0)
    assert mean.lux == pytest.approx(right.lux / 4.0, rel=0.06)


@pytest.mark.parametrize(
    ("distance", "height"), [(100.0, 0.0), (100.0, -5.0), (-1.0, 50.0), (float("nan"), 1.0)]
)
def test_a_place_that_cannot_be_lit_is_refused(distance: float, height: float) -> None:
    with pytest.raises(ValueError, match="above the surface"):
        illuminance_at(even(1.0), distance=distance, height=height, bearing=0.0, size=10.0)
