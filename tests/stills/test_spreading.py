import numpy as np
import pytest

from stackview.stills.refine import facets
from stackview.stills.spreading import filled, smoothed, spread_light
from tests.stills import lamps

SOLID = lamps.solid_of(lamps.prism([lamps.circle(30)], 0, 8))
MESH = facets([(SOLID.vertices, SOLID.triangles, SOLID.faces)], [0], edge=6)
COUNT = len(MESH.at)
REACH = np.array([10.0])


def test_even_light_stays_even():
    even = np.full((COUNT, 3), 0.4, np.float32)
    assert smoothed(MESH, even, 3) == pytest.approx(even, abs=1e-6)
    assert spread_light(MESH, even, REACH) == pytest.approx(even, abs=1e-6)


def test_buried_corners_take_the_light_around_them():
    light = np.full((COUNT, 3), 0.4, np.float32)
    top = MESH.normals[:, 2] > 0.9
    dark = top & (np.linalg.norm(MESH.vertices[MESH.at][:, :2], axis=1) < 10)
    light[dark] = 0
    assert dark.any()
    assert filled(MESH, light, dark) == pytest.approx(np.full((COUNT, 3), 0.4), abs=1e-6)


def test_light_in_a_body_spreads_round_its_edge_and_on_a_surface_it_does_not():
    top = MESH.normals[:, 2] > 0.9
    light = np.where(top[:, None], 1.0, 0.0).astype(np.float32).repeat(3, axis=1)
    side = np.abs(MESH.normals[:, 2]) < 0.1
    assert smoothed(MESH, light, 8)[side].max() == 0
    assert spread_light(MESH, light, REACH)[side].min() > 0.05


def test_spreading_never_leaves_the_range_and_evens_out():
    light = np.random.default_rng(2).uniform(0, 1, (COUNT, 3)).astype(np.float32)
    out = spread_light(MESH, light, REACH)
    assert out.min() >= 0
    assert out.max() <= 1
    assert out.std() < 0.5 * light.std()


def test_a_reach_of_nothing_changes_nothing():
    light = np.random.default_rng(2).uniform(0, 1, (COUNT, 3)).astype(np.float32)
    assert np.array_equal(spread_light(MESH, light, np.zeros(1)), light)


def test_a_spot_spreads_alike_in_every_direction_over_its_reach():
    # Long triangles must not draw it out: compare second moments about a spot in the middle.
    solid = lamps.solid_of(lamps.prism([lamps.rounded(120, 120, 5, 0)], 0, 3))
    mesh = facets([(solid.vertices, solid.triangles, solid.faces)], [0], edge=5)
    place = mesh.vertices[mesh.at]
    light = np.exp(-(place[:, :2] ** 2).sum(axis=1, keepdims=True) / (2 * 8.0**2)).astype(np.float32)
    out = spread_light(mesh, light, np.array([9.0]))[:, 0]
    for angle in np.radians([0, 30, 60, 90, 120, 150]):
        at = 20 * np.array([np.cos(angle), np.sin(angle)])
        near = np.argsort(np.hypot(*(place[:, :2] - at).T))[:6]
        # A Gaussian of 8 mm blurred by 9 mm has 12 mm: at r, proportional to exp(-r²/2/145).
        radius = np.hypot(*place[near, :2].T)
        expected = 64 / 145 * np.exp(-(radius**2) / (2 * 145))
        assert out[near] == pytest.approx(expected, rel=0.25)
