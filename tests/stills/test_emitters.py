import numpy as np
import pytest

from stackview.solids.rays import target
from stackview.stills.emitters import MOST_LIGHTS, faces, light_on, light_within, lights, picture_beam_power
from stackview.stills.panes import Panes
from tests.stills import lamps

NOTHING = target(np.zeros((0, 3)), np.zeros((0, 3), np.int64))
NO_PANES = Panes(NOTHING, np.zeros((0, 3), np.float32), np.zeros(0, np.float32))
UP = np.array([[0, 0, 1]], np.float32)


def one_light(height=100.0):
    return lamps.points_at(np.array([[0.0, 0, height]]), np.array([[0.0, 0, -1]]))


def slab(height, passing):
    square = np.array([[-50.0, -50, 0], [50, -50, 0], [50, 50, 0], [-50, 50, 0]])
    two = np.array([[0, 1, 2], [0, 2, 3]])
    vertices = np.concatenate([square + np.array([0, 0, height]), square + np.array([0, 0, height - 3])])
    flat = np.array([[0, 0, 1], [0, 0, 1], [0, 0, -1], [0, 0, -1]], np.float32)
    return Panes(
        target(vertices, np.concatenate([two, two[:, ::-1] + 4])), flat, np.full(4, passing, np.float32)
    )


@pytest.mark.parametrize(
    ("beam", "power"), [(60, 4.818842), (90, 2), (110, 1.246972), (120, 1), (140, 0.646059)]
)
def test_beam_power(beam, power):
    # m = −ln 2 / ln cos(θ/2), worked for common full angles.
    assert picture_beam_power(np.array([beam]))[0] == pytest.approx(power, rel=1e-6)


def test_light_falls_off_with_distance_squared_and_cosine():
    lamp = lights(one_light(), 100.0)
    source = lamp.centres[0, 2]
    at = np.array([[0, 0, 0], [0, 0, source / 2], [source, 0, 0]], np.float32)
    lit = light_on(at, np.repeat(UP, 3, axis=0), lamp, NOTHING, NO_PANES)[:, 1]
    assert lit[1] / lit[0] == pytest.approx(4, rel=1e-4)
    # 45° away: 1/2 of the inverse square, cos 45° once at the light and once at the surface.
    assert lit[2] / lit[0] == pytest.approx(1 / 4, rel=1e-4)


def test_a_surface_turned_away_and_one_behind_the_light_stay_dark():
    lamp = lights(one_light(), 100.0)
    at = np.array([[0, 0, 0], [0, 0, 200]], np.float32)
    normals = np.array([[0, 0, -1], [0, 0, -1]], np.float32)
    assert light_on(at, normals, lamp, NOTHING, NO_PANES).max() == 0


def test_walls_shadow_and_panes_dim():
    lamp = lights(one_light(), 100.0)
    at = np.zeros((1, 3), np.float32)
    free = light_on(at, UP, lamp, NOTHING, NO_PANES)
    wall = slab(50, 1.0).target
    assert light_on(at, UP, lamp, wall, NO_PANES).max() == 0
    assert light_on(at, UP, lamp, NOTHING, slab(50, 0.3)) == pytest.approx(0.3 * free, rel=1e-5)


def test_light_fades_inside_a_sheet():
    lamp = lights(one_light(), 100.0)
    at = np.array([[0, 0, 49.0]], np.float32)
    long, short = (
        light_within(at, lamp, NOTHING, slab(50, 0.3), np.array([fading], np.float32))[0, 1]
        for fading in (1e9, 1.0)
    )
    # 1 mm below the upper face with a fading of 1 mm leaves 1/e.
    assert short / long == pytest.approx(np.exp(-1), rel=1e-3)


def test_many_points_bake_as_few_lights_with_all_their_strength():
    many = lamps.helix(15, 0, 200, 9, 2.0)
    assert len(many) > 5 * MOST_LIGHTS
    grouped = lights(many, 80.0)
    assert len(grouped.centres) <= MOST_LIGHTS
    # Equal points of 120°: each I0 = Φ·2/Σ·size²; together 2·size² in luminance.
    assert grouped.strengths.sum(axis=0) @ [0.2126, 0.7152, 0.0722] == pytest.approx(2 * 80.0**2, rel=1e-4)


def test_no_points_give_no_light():
    none = lamps.points_at(np.zeros((0, 3)), np.zeros((0, 3)))
    assert len(lights(none, 80.0).centres) == 0
    assert len(faces(none)[0][1]) == 0


def test_faces_stand_in_front_of_the_points():
    mesh, colours, powers = faces(one_light())
    assert mesh[0][:, 2] == pytest.approx(np.full(4, 99.7))
    assert np.ptp(mesh[0], axis=0) == pytest.approx([2.8, 2.8, 0])
    assert colours[0][0] > colours[0][2]
    assert powers == pytest.approx([1.0])
