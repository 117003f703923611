"""The table of spots: against the optics of rough faces, and against fresh renderings."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.glow.offcut import SIDES
from stackview.glow.spot_table import (
    GREATEST_DEPTH,
    GREATEST_ROUGHNESS,
    LEAST_DEPTH,
    LEAST_ROUGHNESS,
    spot,
    spot_of_face,
    spot_table,
)


def half_width(values: np.ndarray, radius: np.ndarray) -> float:
    """Radius at which a falling profile is at half its first value."""
    return float(np.interp(-values[0] / 2.0, -values, radius))


def test_table_is_whole_and_falls_outwards() -> None:
    table = spot_table()
    assert set(table.spots) == set(SIDES)
    for values in table.spots.values():
        assert values.shape == (len(table.roughness), len(table.depth), len(table.radius))
        assert np.isfinite(values).all()
        assert (np.diff(values, axis=2) <= 1e-6).all()
    assert (table.roughness[0], table.roughness[-1]) == (LEAST_ROUGHNESS, GREATEST_ROUGHNESS)
    assert (table.depth[0], table.depth[-1]) == (LEAST_DEPTH, GREATEST_DEPTH)


@pytest.mark.parametrize("roughness", [0.03, 0.05, 0.08])
def test_one_sanded_face_shows_ggx_itself(roughness: float) -> None:
    """Through one slightly rough face the spot is the distribution of its facets.

    A facet leaning by θ turns light by (n − 1)·θ (thin prism); GGX (Walter et al. 2007, eq. 33)
    is ∝ (1 + (θ/α)²)^-2, half its height at θ = α·√(√2 − 1).
    """
    radius = np.geomspace(1e-3, 0.3, 400)
    expected = 0.49 * roughness * np.sqrt(np.sqrt(2.0) - 1.0)
    values = spot(radius, roughness, 0.16, "lamp-side")
    assert half_width(values, radius) == pytest.approx(expected, rel=0.04)
    # Peak: L·d²/I0 = T·D(0)/(n − 1)², D(0) = 1/(π·α²), T of two faces 0.9255.
    assert values[0] == pytest.approx(0.9255 / (np.pi * roughness**2 * 0.49**2), rel=0.06)


def test_two_faces_spread_more_than_one_and_deep_glass_less_than_air() -> None:
    radius = np.geomspace(1e-3, 1.0, 400)
    one, two = (half_width(spot(radius, 0.1, 0.16, side), radius) for side in ("lamp-side", "both"))
    assert 1.3 < two / one < 2.0
    # Sanded on the eye's side the facets stand t/n farther from the LED (paraxial).
    thin, deep = (half_width(spot(radius, 0.1, depth, "eye-side"), radius) for depth in (0.08, 0.64))
    assert deep / thin == pytest.approx((1 + 0.64 / 1.49) / (1 + 0.08 / 1.49), rel=0.06)


@given(st.floats(0.02, 0.55), st.floats(1.05, 1.5), st.floats(0.05, 1.2), st.sampled_from(SIDES))
def test_rougher_is_wider_and_lower(roughness: float, more: float, depth: float, sanded) -> None:  # type: ignore[no-untyped-def]
    radius = np.geomspace(1e-3, 2.0, 300)
    rougher = min(roughness * more, 0.6)
    fine, coarse = (spot(radius, value, depth, sanded) for value in (roughness, rougher))
    assert coarse[0] < fine[0] * 1.02
    assert half_width(coarse, radius) > half_width(fine, radius) * 0.99


def test_a_small_face_changes_nothing_and_a_large_one_spreads() -> None:
    radius = np.geomspace(1e-3, 1.0, 100)
    plain = spot(radius, 0.2, 0.16)
    assert spot_of_face(radius, 0.2, 0.16, "both", 0.003) == pytest.approx(plain, rel=0.02)
    wide = spot_of_face(radius, 0.2, 0.16, "both", 0.2)
    assert half_width(wide, radius) > 1.2 * half_width(plain, radius)
    # What leaves the sheet stays the same: ∫ L 2πr dr over all of it.
    whole = np.geomspace(1e-3, 6.0, 2000)
    flux = [
        np.trapezoid(values * whole, whole)
        for values in (spot(whole, 0.2, 0.16), spot_of_face(whole, 0.2, 0.16, "both", 0.2))
    ]
    assert flux[1] == pytest.approx(flux[0], rel=0.01)


@pytest.mark.parametrize(("roughness", "depth", "sanded"), [(0.12, 0.25, "both"), (0.35, 0.2, "both")])
def test_between_its_lines_it_is_what_the_renderer_gives(roughness: float, depth: float, sanded) -> None:  # type: ignore[no-untyped-def]
    pytest.importorskip("mitsuba")
    from stackview.glow.engine import built, photographed
    from stackview.glow.offcut import Offcut, offcut_scene
    from stackview.glow.room import DARK
    from stackview.sight.camera import Camera
    from tests.glow.bodies import quick

    distance, pixels = 30.0, 64
    half = 2.2 * roughness * distance
    offcut = Offcut(distance, depth * distance, roughness, sanded, 500.0)
    camera = Camera(
        0.0,
        90.0,
        9000.0,
        (0.0, 0.0, offcut.thickness),
        float(2 * np.degrees(np.arctan(half / 9000))),
        (pixels, pixels),
    )
    scene = built(offcut_scene(offcut, np.zeros((1, 2)), 0.5), DARK, quick())
    picture = photographed(scene, camera, 96, 4242)[..., 1].astype(float) * distance**2
    place = ((np.arange(pixels) + 0.5) / pixels * 2 - 1) * half
    radius = np.hypot(*np.meshgrid(place, place)) / distance
    expected = spot_of_face(radius, roughness, depth, sanded, 0.5 / distance)
    for low, high in ((0.0, 0.3), (0.3, 0.6), (0.6, 1.0), (1.0, 1.5)):
        ring = (radius >= low * roughness) & (radius < high * roughness)
        assert picture[ring].mean() == pytest.approx(expected[ring].mean(), rel=0.08)
