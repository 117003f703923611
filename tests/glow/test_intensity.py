"""Intensity over the sphere: flux in closed form, nothing lost between grids, bearings kept."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import dblquad

from stackview.glow.intensity import (
    Intensity,
    even_gammas,
    even_planes,
    gamma_of,
    of_rays,
    plane_of,
    plane_shares,
    spread_out,
    weights,
)


def made(
    candela: Callable[[np.ndarray, np.ndarray], np.ndarray], planes: int = 72, gammas: int = 181
) -> Intensity:
    """Intensity sampled from a function of C and γ [rad]."""
    c, g = even_planes(planes), even_gammas(gammas)
    return Intensity(c, g, candela(*np.meshgrid(np.radians(c), np.radians(g), indexing="ij")) + 0.0)


def downward(c: np.ndarray, g: np.ndarray) -> np.ndarray:
    return 100.0 / np.pi * np.maximum(np.cos(g), 0.0) + 0.0 * c


def test_bearings_and_elevations_become_planes_and_gammas() -> None:
    assert plane_of(np.array([0.0, 90.0, -45.0, 360.0])).tolist() == [0.0, 90.0, 315.0, 0.0]
    assert gamma_of(np.array([-90.0, 0.0, 90.0])).tolist() == [0.0, 90.0, 180.0]


def test_isotropic_source_of_628_lumens_gives_50_candela() -> None:
    # IES definitions: Φ = 4πI; the figure is a printed example's (628 lm, 50 cd).
    even = made(lambda c, g: 628.0 / (4 * np.pi) + 0.0 * c * g)
    assert even.lumens == pytest.approx(628.0, rel=1e-12)
    assert even.peak == pytest.approx(50.0, abs=0.03)


def test_lambertian_disc_has_its_flux_over_pi_straight_down() -> None:
    lamp = made(downward)
    assert lamp.lumens == pytest.approx(100.0, rel=1e-4)
    assert float(lamp.at(0.0, -90.0)) == pytest.approx(31.830989, abs=1e-6)
    # sin²θ of the flux within half-angle θ: a quarter within 30°.
    inside = np.where(lamp.gammas < 30.0, 1.0, np.where(lamp.gammas == 30.0, 0.5, 0.0))
    zone = float((weights(lamp.planes, lamp.gammas) * lamp.candela * inside).sum())
    assert zone / lamp.lumens == pytest.approx(0.25, abs=2e-4)


def test_flux_is_that_of_the_bilinear_surface() -> None:
    # Independent: scipy's quadrature over the surface that ``at`` gives.
    rng = np.random.default_rng(4)
    planes, gammas = np.array([10.0, 100.0, 250.0]), np.array([0.0, 40.0, 110.0, 180.0])
    lamp = Intensity(planes, gammas, rng.uniform(1.0, 9.0, (3, 4)))
    total = 0.0
    for c0, c1 in ((10, 100), (100, 250), (250, 370)):
        for g0, g1 in ((0, 40), (40, 110), (110, 180)):
            total += dblquad(
                lambda g, c: float(lamp.at(np.degrees(c), np.degrees(g) - 90.0)) * np.sin(g),
                np.radians(c0), np.radians(c1), np.radians(g0), np.radians(g1), epsabs=1e-7,
            )[0]  # fmt: skip
    assert lamp.lumens == pytest.approx(total, rel=1e-6)


def test_weights_sum_to_the_whole_sphere() -> None:
    assert weights(np.array([5.0, 6.0, 200.0]), np.array([0.0, 1.0, 90.0, 180.0])).sum() == pytest.approx(
        4 * np.pi
    )


def test_one_plane_stands_for_all_round() -> None:
    lamp = Intensity(np.zeros(1), np.array([0.0, 90.0, 180.0]), np.array([[7.0, 7.0, 7.0]]))
    assert lamp.lumens == pytest.approx(28.0 * np.pi)
    assert float(lamp.at(123.0, 10.0)) == pytest.approx(7.0)


def test_rays_keep_their_flux_and_bearing() -> None:
    # The horizontal unit vector of bearing b is (sin b, −cos b).
    right_and_up = np.array([[np.cos(np.radians(30.0)), 0.0, np.sin(np.radians(30.0))]])
    lamp = of_rays(5.0 * right_and_up, np.array([3.0]), spread=0.0)
    assert lamp.lumens == pytest.approx(3.0, rel=1e-12)
    plane, gamma = np.unravel_index(int(lamp.candela.argmax()), lamp.candela.shape)
    assert (lamp.planes[plane], lamp.gammas[gamma]) == (90.0, 120.0)


def test_rays_straight_up_and_down_belong_to_every_plane() -> None:
    lamp = of_rays(np.array([[0.0, 0.0, 1.0], [0.0, 0.0, -1.0]]), np.array([1.0, 2.0]), spread=0.0)
    assert lamp.lumens == pytest.approx(3.0)
    assert np.ptp(lamp.candela[:, 0]) == 0.0
    assert lamp.candela[0, 0] == pytest.approx(2.0 * lamp.candela[0, -1])


def test_many_rays_of_an_even_source_give_an_even_intensity() -> None:
    rng = np.random.default_rng(1)
    directions = rng.normal(size=(200_000, 3))
    lamp = of_rays(directions, np.full(200_000, 4 * np.pi / 200_000), even_planes(8), even_gammas(9))
    assert lamp.lumens == pytest.approx(4 * np.pi, rel=1e-12)
    assert lamp.candela == pytest.approx(np.ones((8, 9)), abs=0.08)


def cube_pixels(count: int) -> tuple[np.ndarray, np.ndarray]:
    """Directions and solid angles of the pixels of a cube's six faces seen from its middle."""
    at = (np.arange(count) + 0.5) / count * 2 - 1
    x, y = (grid.ravel() for grid in np.meshgrid(at, at))
    one = np.ones_like(x)
    faces = [(x, y, one), (x, y, -one), (x, one, y), (x, -one, y), (one, x, y), (-one, x, y)]
    solid = (2 / count) ** 2 / (1 + x * x + y * y) ** 1.5
    return np.concatenate([np.stack(face, axis=1) for face in faces]), np.tile(solid, 6)


def test_samples_coarser_than_the_planes_leave_no_gaps() -> None:
    # 48 pixels a face are 1.9° apart, planes next to the pole 0.2°.
    directions, solid = cube_pixels(48)
    lamp = of_rays(directions, solid)
    assert lamp.lumens == pytest.approx(float(solid.sum()), rel=1e-12)
    assert lamp.candela == pytest.approx(np.ones((72, 73)), abs=0.08)
    assert lamp.candela[:, 8:-8] == pytest.approx(np.ones((72, 57)), abs=0.04)
    bare = of_rays(directions, solid, spread=0.0)
    assert np.ptp(bare.candela[:, 1]) > 1.0


def test_spread_samples_keep_a_slope_and_its_bearing() -> None:
    directions, solid = cube_pixels(48)
    unit = directions / np.linalg.norm(directions, axis=1)[:, None]
    lamp = of_rays(directions, solid * (1.0 + 0.5 * unit[:, 0]))  # towards bearing 90°
    c, g = np.meshgrid(np.radians(lamp.planes), np.radians(lamp.gammas), indexing="ij")
    assert lamp.candela == pytest.approx(1.0 + 0.5 * np.sin(c) * np.sin(g), abs=0.09)
    assert float(lamp.at(90.0, 0.0)) == pytest.approx(1.5, rel=0.02)


@given(bearing=st.floats(-720.0, 720.0), elevation=st.floats(-90.0, 90.0))
def test_between_nodes_nothing_is_outside_its_nodes(bearing: float, elevation: float) -> None:
    lamp = made(lambda c, g: 2.0 + np.cos(c) * np.sin(g), 5, 7)
    value = float(lamp.at(bearing, elevation))
    assert lamp.candela.min() - 1e-12 <= value <= lamp.candela.max() + 1e-12
    assert value == pytest.approx(float(lamp.at(bearing + 360.0, elevation)), rel=1e-9)


@pytest.mark.parametrize(
    ("planes", "gammas", "candela"),
    [
        ([0.0], [0.0, 90.0], [[1.0, 1.0]]),
        ([0.0], [10.0, 180.0], [[1.0, 1.0]]),
        ([90.0, 0.0], [0.0, 180.0], [[1.0, 1.0]] * 2),
        ([0.0, 360.0], [0.0, 180.0], [[1.0, 1.0]] * 2),
        ([0.0], [0.0, 180.0], [[-1.0, 1.0]]),
        ([0.0], [0.0, 180.0], [[np.nan, 1.0]]),
        ([0.0], [0.0, 180.0], [[1.0]]),
    ],
)
def test_what_is_no_whole_sphere_is_refused(
    planes: list[float], gammas: list[float], candela: list[list[float]]
) -> None:
    with pytest.raises(ValueError, match=r"intensity|planes|γ"):
        Intensity(np.array(planes), np.array(gammas), np.array(candela))


def test_faulty_flux_is_refused() -> None:
    for flux in (-1.0, np.inf, np.nan):
        with pytest.raises(ValueError, match="flux"):
            of_rays(np.array([[0.0, 0.0, 1.0]]), np.array([flux]))
    with pytest.raises(ValueError, match="rays"):
        of_rays(np.zeros((1, 3)), np.ones(1))


def test_values_are_read_only() -> None:
    lamp = made(downward)
    with pytest.raises(ValueError, match="read-only"):
        lamp.candela[0, 0] = 1.0


def test_shares_sum_to_one_and_vectors_stay_of_unit_length() -> None:
    unit = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.6, 0.0, -0.8]])
    sets = list(spread_out(unit, 2.0))
    assert sum(share for _, share in sets) == pytest.approx(1.0)
    for ways, _ in sets:
        assert np.linalg.norm(ways, axis=1) == pytest.approx(np.ones(3))


def test_the_curve_is_as_wide_as_asked_and_centred() -> None:
    # Rayleigh: mean square of the angle is 2σ²; a fortieth is lost with the tail beyond the last of 24.
    unit = np.array([[0.36, 0.48, 0.8]])
    ways = np.concatenate([way for way, _ in spread_out(unit, 1.5)])
    away = np.degrees(np.arccos(np.clip(ways @ unit[0], -1.0, 1.0)))
    assert np.sqrt((away**2).mean() / 2.0) == pytest.approx(1.5, rel=0.03)
    assert ways.mean(axis=0) == pytest.approx(unit[0], abs=0.004)


def test_without_a_width_the_samples_stay_themselves() -> None:
    unit = np.eye(3)
    ((ways, share),) = spread_out(unit, 0.0)
    assert share == 1.0
    assert ways.tolist() == unit.tolist()


@given(seed=st.integers(0, 99), count=st.integers(1, 12), width=st.floats(0.0, 1000.0))
def test_no_flux_is_lost_round_the_turn(seed: int, count: int, width: float) -> None:
    planes = np.sort(np.random.default_rng(seed).choice(360, count, replace=False)).astype(float)
    matrix = plane_shares(planes, width)
    assert matrix.sum(axis=0) == pytest.approx(np.ones(count))
    assert (matrix >= 0.0).all()


def test_even_light_stays_even_and_a_whole_turn_makes_it_so() -> None:
    planes = np.arange(0.0, 360.0, 5.0)
    assert plane_shares(planes, 3.0).tolist() == np.eye(72).tolist()
    assert plane_shares(planes, 41.0) @ np.ones(72) == pytest.approx(np.ones(72))
    one = np.zeros(72)
    one[7] = 72.0
    assert plane_shares(planes, 360.0) @ one == pytest.approx(np.ones(72), rel=1e-9)
