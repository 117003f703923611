import numpy as np
import pytest

from stackview.stills.grid import on_ground
from stackview.stills.ground import GROUND_REACH, reach_of
from tests.stills import lamps
from tests.stills.baking import bake

NONE = lamps.points_at(np.zeros((0, 3)), np.zeros((0, 3)))
DISC = lamps.part("disc", lamps.prism([lamps.circle(50, 90)], 0, 60), lamps.ASH)


def light(ground, values, x, y):
    return on_ground(values, ground.reach, *(np.array([v], np.float32) for v in (x, y)))[0, 1]


def test_reach_follows_width_or_height_and_no_cord():
    cord = lamps.part("cord", lamps.prism([lamps.circle(3)], 60, 2000), lamps.ALUMINIUM, role="cord")
    assert reach_of([DISC, cord]) == pytest.approx(GROUND_REACH * 100, rel=0.01)


def test_shade_gathers_at_the_foot_and_falls_away_from_the_large_light():
    ground = bake([DISC], NONE).ground
    near, far = (light(ground, ground.sky, -r, -r) for r in (38, 120))
    assert near < far
    # The large light stands at the upper left front, so the shadow lies at the right, behind.
    assert light(ground, ground.sky, 80, 60) < 0.75 * light(ground, ground.sky, -80, -60)
    assert ground.lamp.max() == 0


def test_a_light_beside_the_lamp_lights_the_ground_under_it_most():
    shining = lamps.points_at(np.array([[90.0, 0, 40]]), np.array([[0.0, 0, -1]]))
    ground = bake([DISC], shining).ground
    under, away = (light(ground, ground.lamp, x, 0) for x in (90, 160))
    assert under > 3 * away > 0
    # The disc stands between it and the other side.
    assert light(ground, ground.lamp, -90, 0) < 0.05 * under
