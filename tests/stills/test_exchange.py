from dataclasses import replace

import numpy as np
import pytest

from stackview.solids.solid import Face
from stackview.stills.exchange import filled, smoothed, spread_light
from stackview.stills.refine import facets
from tests.stills import lamps
from tests.stills.baking import bake

BOX = lamps.prism([lamps.circle(60, 8)], 0, 100) - lamps.prism([lamps.circle(50, 8)], 10, 90)
INSIDE = lamps.points_at(np.array([[0.0, 0, 20]]), np.array([[0.0, 0, 1]]))


def lit(reflectance):
    """Lamp's light on the inner faces of a closed box: ceiling in the beam, and floor behind it."""
    material = replace(lamps.ASH, kind="board", colour=(reflectance,) * 3)
    baked = bake([lamps.part("box", BOX, material)], INSIDE, ground=False)
    mesh = baked.walls
    flat = mesh.normals[:, 2]
    height = mesh.vertices[mesh.at][:, 2]
    lamp = baked.wall_light.lamp[:, 1]
    return lamp[(flat < -0.9) & (height > 50)].mean(), lamp[(flat > 0.9) & (height < 50)].mean()


def test_black_walls_throw_nothing_back():
    ceiling, floor = lit(0.0)
    assert ceiling > 0
    assert floor == 0


def test_lighter_walls_light_what_the_beam_does_not_reach():
    dark, light = lit(0.2), lit(0.6)
    assert 0 < dark[1] < light[1]
    # Each throw multiplies by the reflectance: at least by 3 in all, from 0.2 to 0.6.
    assert light[1] > 3 * dark[1]


def test_light_thrown_back_stays_below_what_a_closed_box_can_hold():
    # Endless bounces multiply the mean direct light by 1/(1 − ρ); a few must stay below.
    black, light = lit(0.0), lit(0.6)
    assert light[0] < black[0] / (1 - 0.6)


def test_no_sky_gets_into_a_closed_box():
    baked = bake([lamps.part("box", BOX, lamps.ASH)], INSIDE, ground=True)
    inner = np.linalg.norm(baked.walls.vertices[baked.walls.at][:, :2], axis=1) < 49
    heights = baked.walls.vertices[baked.walls.at][:, 2]
    inner &= (heights > 5) & (heights < 95)
    assert inner.any()
    assert baked.wall_light.sky[inner].max() == 0


def test_a_glowing_plate_lights_the_wood_under_it():
    lamp = lamps.plates(lamps.OPAL)
    baked = bake(lamp.placed, lamp.points)
    without = bake([part for part in lamp.placed if part.opaque], lamp.points)
    base = (baked.walls.face == Face.TOP) & (baked.walls.part == 0)
    bare = (without.walls.face == Face.TOP) & (without.walls.part == 0)
    glow = baked.wall_light.lamp[np.unique(baked.walls.corner[base])].mean()
    alone = without.wall_light.lamp[np.unique(without.walls.corner[bare])].mean()
    assert glow > 2 * alone + 0.01
    assert baked.sheets.glowing.max() < 1


@pytest.mark.parametrize("material", [lamps.CLEAR, lamps.OPAL])
def test_no_light_is_made_from_nothing(material):
    lamp = lamps.plates(material)
    none = lamps.points_at(np.zeros((0, 3)), np.zeros((0, 3)))
    baked = bake(lamp.placed, none)
    assert baked.sheet_light.lamp.max() == 0
    assert baked.wall_light.sky.max() < 2


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


def test_light_on_one_side_of_a_covered_band_never_comes_to_the_other():
    # A ring's wall stands on the top between 10 and 22 mm: bright inside of it, dark outside.
    top = MESH.normals[:, 2] > 0.9
    out = np.linalg.norm(MESH.vertices[MESH.at][:, :2], axis=1)
    covered = top & (out > 10) & (out < 22)
    assert covered.any()
    light = np.where(top & (out <= 10), 1.0, 0.0).astype(np.float32)[:, None].repeat(3, axis=1)
    made = filled(MESH, smoothed(MESH, light, 2, ~covered), covered)
    assert made[top & (out >= 22)].max() == 0
    assert made[top & (out <= 10)] == pytest.approx(1.0, abs=1e-6)


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
