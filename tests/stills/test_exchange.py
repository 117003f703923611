from dataclasses import replace

import numpy as np
import pytest

from stackview.solids.solid import Face
from stackview.stills.bake import bake
from tests.stills import lamps

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
