from dataclasses import replace

import numpy as np
import pytest

from stackview.stills.mix import STUDIO
from stackview.stills.trace import mixed, see, surface_keys
from tests.stills import lamps
from tests.stills.baking import bake

DARK = replace(STUDIO, sky=0.0, lamp=0.0)
WHITE = replace(lamps.CLEAR, colour=(1.0, 1.0, 1.0))
EYE = np.array([0, 0, 300], np.float32)
GREY = np.full((1, 3), 0.5, np.float32)
NONE = lamps.points_at(np.zeros((0, 3)), np.zeros((0, 3)))


def down(x=0.0, y=0.0):
    way = np.array([[x, y, 0]], np.float32) - EYE
    return np.asarray(way / np.linalg.norm(way), np.float32)


def plate(material, low=0.0, high=5.0, finish=None):
    return lamps.part("plate", lamps.prism([lamps.circle(60)], low, high), material, finish=finish)


def seen(parts, mix=DARK, points=NONE, ray=None):
    view = mixed(bake(parts, points, ground=False), mix)
    return see(view, EYE, down() if ray is None else ray, GREY, 1e-3)


def test_a_ray_that_meets_nothing_sees_the_backdrop():
    got = seen([plate(lamps.ASH)], ray=down(500, 0))
    assert got.front == pytest.approx(GREY)
    assert got.frosted[0] == 0


def test_a_clear_plate_passes_what_fresnel_leaves_at_two_faces():
    # Slab without absorption, n = 1.49: 2n/(n² + 1) = 0.9254 with all inner reflections;
    # two faces alone pass (1 − 0.0387)² = 0.9241.
    got = seen([plate(WHITE)])
    assert got.front[0] / 0.5 == pytest.approx(np.full(3, 0.9254), abs=2e-3)


def test_thicker_tinted_acrylic_passes_less_by_beers_law():
    smoke = replace(lamps.CLEAR, colour=(0.5, 0.5, 0.5))
    thin, thick = (seen([plate(smoke, 0, high)]).front[0, 1] for high in (10.0, 40.0))
    # The colour is that of 60 mm: 30 mm more leave the square root of it.
    assert thick / thin == pytest.approx(0.5**0.5, rel=1e-3)


def test_sanded_puts_what_is_behind_behind_and_opal_hides_it():
    sanded = seen([plate(WHITE, finish=lamps.SANDED)])
    assert sanded.frosted[0] == 1
    assert 0.1 < sanded.behind[0, 1] < 0.5
    opal = seen([plate(lamps.OPAL)])
    assert opal.behind[0, 1] < 0.1 * 0.5


def test_a_light_point_shines_along_its_axis_and_not_from_behind():
    up = lamps.points_at(np.array([[0.0, 0, 20]]), np.array([[0.0, 0, 1]]))
    away = lamps.points_at(np.array([[0.0, 0, 20]]), np.array([[0.0, 0, -1]]))
    base = [plate(lamps.ASH)]
    bright, back = (seen(base, replace(STUDIO, lamp=1.0), points).front[0, 1] for points in (up, away))
    assert bright > 5
    assert back < 0.1


def test_a_light_point_under_wood_is_not_seen():
    under = lamps.points_at(np.array([[0.0, 0, -20]]), np.array([[0.0, 0, 1]]))
    assert seen([plate(lamps.ASH)], replace(STUDIO, lamp=1.0), under).front.max() < 1


def test_keys_tell_faces_and_parts_apart():
    parts = [plate(lamps.ASH), lamps.part("post", lamps.prism([lamps.circle(5)], 5, 30), lamps.BRASS)]
    view = mixed(bake(parts, NONE, ground=False), DARK)
    ways = np.concatenate([down(40, 0), down(0, 40), down(0, 0), down(500, 0)])
    keys = surface_keys(view, EYE, ways)
    assert keys[0] == keys[1]
    assert len(set(keys.tolist())) == 3
