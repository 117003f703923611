"""Merged bands, their share of the sphere, the count map and cut-offs."""

import numpy as np
import pytest

from stackview.sight.bands import Kind, all_bands, even_bearings
from stackview.sight.edge_names import EdgeNames
from stackview.sight.scene import scene_of
from stackview.sight.sphere import count_map, cut_offs, merged, share_of_sphere
from tests.lamps import disc, light_points, ring, tiers, wound

UP = [[0.0, 0.0, 1.0]]


def test_a_bare_point_facing_up_shows_from_half_of_all_directions() -> None:
    bands = all_bands(scene_of(()), light_points([[0, 0, 50]], UP), even_bearings(36))
    assert share_of_sphere(merged(bands), 36) == pytest.approx(0.5)


def test_lid_leaves_a_zone_of_the_sphere() -> None:
    # Zone between elevations a and b: (sin b − sin a)/2 of the sphere. A 360-sided lid at 10 up, 40 out.
    radius = 40.0
    parts = (disc("lid", radius, 60, 70, facets=360),)
    bands = all_bands(scene_of(parts), light_points([[0, 0, 50]], UP), even_bearings(360))
    top = np.sin(np.arctan2(10, radius))
    assert share_of_sphere(merged(bands), 360) == pytest.approx(top / 2, rel=1e-4)


def test_bands_of_two_points_merge_where_they_overlap() -> None:
    # Same axis, different heights under one lid: nested bands from 0° to two cut-offs.
    parts = (disc("lid", 40, 60, 70, facets=64),)
    points = light_points([[0, 0, 50], [0, 0, 40]], UP * 2)
    bands = all_bands(scene_of(parts), points, even_bearings(8))
    joined = merged(bands)
    assert len(joined.low) == 8
    assert joined.most.tolist() == [2] * 8
    assert joined.low == pytest.approx(np.zeros(8), abs=1e-6)
    assert np.degrees(np.arctan2(20, 40)) <= joined.high.min() + 1e-6
    assert joined.high.max() <= np.degrees(np.arctan2(20, 40 * np.cos(np.pi / 64))) + 1e-6


def test_apart_bands_stay_apart() -> None:
    parts = (disc("low", 40, 60, 62), disc("high", 80, 110, 112))
    joined = merged(all_bands(scene_of(parts), light_points([[0, 0, 50]], UP), even_bearings(4)))
    assert np.bincount(joined.bearing).tolist() == [1] * 4
    parts = (ring("low", 30, 40, 60, 62), disc("high", 400, 150, 152))
    joined = merged(all_bands(scene_of(parts), light_points([[0, 0, 50]], UP), even_bearings(4)))
    assert np.bincount(joined.bearing).tolist() == [1] * 4  # the hole looks at the lid
    parts = (ring("low", 30, 40, 60, 62), disc("high", 20, 150, 152))
    joined = merged(all_bands(scene_of(parts), light_points([[0, 0, 50]], UP), even_bearings(4)))
    assert np.bincount(joined.bearing).tolist() == [2] * 4


def test_count_map_counts_each_band_once() -> None:
    parts, height = tiers()
    points = wound(30, 20.0, height - 12.0)
    bands = all_bands(scene_of(parts), points, even_bearings(36))
    elevations = np.arange(-89.5, 90.0, 1.0)
    counted = count_map(bands, elevations)
    plain = np.zeros_like(counted)
    for low, high, bearing in zip(bands.low, bands.high, bands.bearing, strict=True):
        plain[(low < elevations) & (elevations < high), bearing] += 1
    assert np.array_equal(counted, plain)
    assert counted.max() <= len(points)


def test_share_agrees_with_the_map() -> None:
    # The map is a midpoint rule on the same step function, so the two agree to its step.
    parts, height = tiers()
    bands = all_bands(scene_of(parts), wound(30, 20.0, height - 12.0), even_bearings(120))
    bare = bands.chosen(bands.kind == Kind.BARE)
    elevations = np.arange(-89.975, 90.0, 0.05)
    weight = np.cos(np.radians(elevations))[:, None]
    midpoint = float(((count_map(bare, elevations) > 0) * weight).sum() / (weight.sum() * 120))
    assert share_of_sphere(merged(bare), 120) == pytest.approx(midpoint, abs=2e-4)


def test_cut_offs_name_the_edges_that_bound_the_gap() -> None:
    parts = (ring("lower", 40, 90, 0, 10), ring("upper", 40, 80, 40, 50))
    scene = scene_of(parts)
    points = light_points([[0, -30, 22]], [[0, -1, 0]])
    bands = all_bands(scene, points, np.array([0.0, 5.0]))
    gap = cut_offs(bands, EdgeNames(scene))[0]
    assert (gap.low_edge, gap.high_edge) == ("lower, outer edge on top", "upper, outer edge underneath")
    assert (gap.points, gap.bearings) == (1, 2)
    assert gap.low == pytest.approx(np.degrees(np.arctan2(-12, 60)), abs=0.01)
    assert gap.high == pytest.approx(np.degrees(np.arctan2(18, 50)), abs=0.05)


def test_nothing_bare_gives_nothing_merged() -> None:
    bands = all_bands(
        scene_of((disc("block", 60, 0, 100),)), light_points([[0, 0, 50]], UP), even_bearings(8)
    )
    joined = merged(bands)
    assert len(joined.low) == 0
    assert share_of_sphere(joined, 8) == 0.0
    assert cut_offs(bands, EdgeNames(scene_of(()))) == ()
    assert count_map(bands, np.array([0.0])).tolist() == [[0] * 8]
