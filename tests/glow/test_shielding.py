"""Shielding angles of simple lamps by plane geometry, against the table of EN 12464-1."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.lamp import Eye
from stackview.glow.shielding import face_light, first_seen, least_angle, shielding_of
from stackview.sight.bands import all_bands, even_bearings
from stackview.sight.eyes import Standpoint, look_from_eyes
from stackview.sight.scene import scene_of
from tests.lamps import disc, light_points, ring

BEARINGS = even_bearings(72)


@pytest.mark.parametrize(
    ("luminance", "angle"),
    [
        (0.0, 0.0),
        (19_999.0, 0.0),
        (20_000.0, 15.0),
        (49_999.0, 15.0),
        (50_000.0, 20.0),
        (499_999.0, 20.0),
        (5e5, 30.0),
    ],
)
def test_table_of_en_12464_1(luminance: float, angle: float) -> None:
    assert least_angle(luminance) == angle


@given(low=st.floats(-90.0, 90.0), width=st.floats(0.0, 180.0))
def test_both_sides_of_the_horizontal_mirror_each_other(low: float, width: float) -> None:
    high = min(low + width, 90.0)
    up = first_seen(np.array([low]), np.array([high]), above=True)
    assert up == first_seen(np.array([-high]), np.array([-low]), above=False)
    assert 0.0 <= float(up[0]) <= 90.0


def test_luminance_of_a_lambertian_face() -> None:
    # 100 lm → I0 = 31.830989 cd; from 5 × 5 mm that is 1.273 Mcd/m².
    points = light_points([[0, 0, 50]], [[0, -1, 0]], face=5.0)
    light = face_light(points, np.array([100.0]))
    assert light.candela[0] == pytest.approx(31.830989)
    assert light.areas[0] == pytest.approx(25.0)
    assert light.luminance[0] == pytest.approx(31.830989 / 25e-6)


def test_what_is_not_given_is_not_known() -> None:
    sized = light_points([[0, 0, 50]], [[0, -1, 0]], face=5.0)
    assert np.isnan(face_light(sized, np.array([np.nan])).luminance[0])
    for points in (light_points([[0, 0, 50]], [[0, -1, 0]]), sized.middles()):
        light = face_light(points, np.array([100.0]))
        assert np.isnan(light.luminance[0])
        assert light.candela[0] == pytest.approx(31.830989)


def shielded(height: float, lumens: float = 100.0, rim: float = 70.0):  # type: ignore[no-untyped-def]
    """A point at 50 facing up inside a ring of inner radius 100, seen from far at a height."""
    parts = (ring("rim", 100.0, 110.0, 0.0, rim, facets=360),)
    points = light_points([[0, 0, 50]], [[0, 0, 1]], face=5.0)
    scene, room = scene_of(parts), Standpoint(0.0, None)
    seen = look_from_eyes(scene, points, (Eye("test", 1e5, height),), room, rim, BEARINGS)[0]
    return shielding_of(seen, all_bands(scene, points, BEARINGS), face_light(points, np.array([lumens])))


def test_a_rim_shields_by_its_height_over_its_distance() -> None:
    # The line clears the ring's inner edge: 20 above the point, 100 away at the facets' corners.
    found = shielded(3e4)
    assert found.angle == pytest.approx(np.degrees(np.arctan2(20.0, 100.0)), abs=0.01)
    assert found.above
    assert found.points == 1
    assert found.luminance == pytest.approx(31.830989 / 25e-6)
    assert found.least == 30.0


def test_a_hidden_point_needs_no_shielding() -> None:
    assert shielded(1e4) is None


def test_unknown_lumens_leave_the_angle_alone() -> None:
    found = shielded(3e4, np.nan)
    assert found.angle == pytest.approx(np.degrees(np.arctan2(20.0, 100.0)), abs=0.01)
    assert np.isnan(found.luminance)
    assert np.isnan(found.least)


def test_a_point_that_shows_level_is_not_shielded_on_either_side() -> None:
    points = light_points([[0, 0, 50]], [[0, -1, 0]], face=5.0)
    scene, room = scene_of((disc("base", 40.0, 0.0, 10.0),)), Standpoint(0.0, None)
    for height in (5000.0, -5000.0):
        seen = look_from_eyes(scene, points, (Eye("test", 1e5, height),), room, 60.0, BEARINGS)[0]
        found = shielding_of(seen, all_bands(scene, points, BEARINGS), face_light(points, np.array([1.0])))
        assert found is not None
        assert found.angle == 0.0
        assert found.above is (height > 0)
        assert found.least == 0.0  # 1 lm from 25 mm²: 12.7 kcd/m²
