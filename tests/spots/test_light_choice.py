"""How a light point is chosen: every one can be, and the chance that is told is the chance it has."""

import numpy as np
import pytest

from stackview.glow.flux import Flux
from stackview.glow.scene import GlowScene, shining_faces
from stackview.glow.skins import Clear, Matt, Mirror
from stackview.spots.caught_light import caught_light
from stackview.spots.light_choice import set_out
from tests.spots.small_scenes import faces_and_light, level_plane, light_points

WHITE = Matt((1.0, 1.0, 1.0))


def around(count: int = 7):
    centres = [[10.0 * k, 0.0, 30.0] for k in range(count)]
    return faces_and_light([level_plane(WHITE)], light_points(centres, [0, 0, -1]))


def test_the_chance_told_is_the_chance_that_each_has() -> None:
    own, chance = around(), np.random.default_rng(1)
    count = 20_000
    at = np.repeat(np.array([[21.0], [3.0], [2.0]], np.float32), count, axis=1)
    which, drawn = (each.ravel() for each in own.choice.drawn(own.choice.cube(at), 3, chance))
    told = np.array([drawn[which == led][0] for led in range(7)])
    assert told.sum() == pytest.approx(1.0, rel=1e-5)
    assert np.abs(np.bincount(which, minlength=7) / (3 * count) - told).max() < 0.01
    assert told.argmax() == 2


def test_places_far_off_and_many_light_points_are_no_error() -> None:
    own, chance = around(200), np.random.default_rng(2)
    places = np.array([[1e4, -1e4], [0.0, 0.0], [0.0, 0.0]], np.float32)
    which, drawn = own.choice.drawn(own.choice.cube(places), 2, chance)
    assert which.shape == drawn.shape == (2, 2)
    assert ((which >= 0) & (which < 200)).all()
    assert (drawn > 0).all()


def test_places_on_a_face_lie_evenly_on_it() -> None:
    own, chance = around(), np.random.default_rng(3)
    place, normal = own.emitters.place(np.full(20_000, 3), chance)
    offset = place - own.emitters.centres[:, 3:4]
    assert np.abs(offset[:2].mean(axis=1)).max() < 0.01
    assert np.allclose(normal, np.array([[0.0], [0.0], [-1.0]]), atol=1e-5)
    # A unit square's second moment is 1/12 about each of its middle lines, whatever its turn.
    assert offset[:2].var(axis=1) == pytest.approx([1 / 12, 1 / 12], rel=0.05)


def test_the_flux_of_what_shines_is_the_light_points_own() -> None:
    emitters = around().emitters
    # Φ = π·L·A [cd/m² · mm²] of a Lambertian face.
    assert np.pi * emitters.luminance * emitters.area / 1e6 == pytest.approx([10.0] * 7, rel=1e-5)


@pytest.mark.parametrize("skin", [WHITE, Clear(), Mirror((0.9, 0.9, 0.9))])
def test_light_points_that_give_nothing_light_nothing(skin) -> None:
    points = light_points([[0.0, 0.0, 30.0], [9.0, 0.0, 30.0]], [0, 0, -1], lumens=0.0)
    own, chance = faces_and_light([level_plane(skin)], points), np.random.default_rng(4)
    _, drawn = own.choice.drawn(own.choice.cube(np.zeros((3, 5), np.float32)), 2, chance)
    assert (drawn > 0).all()
    _, at, _ = set_out(own.emitters, 8, chance)
    assert np.isfinite(at).all()
    lights, wells = shining_faces(points, Flux(points.lumens.copy(), ()))
    scene = GlowScene((level_plane(skin), *wells), lights, ())
    caught = caught_light(scene, points, (1.0, 1.0, 1.0), own.emitters)
    assert caught is None or not caught.light.any()
