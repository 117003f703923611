"""Ways from the light points: light that enters acrylic by a clear face, against closed forms."""

import numpy as np
import pytest
import trimesh

from stackview.glow.skins import Clear, Matt, Opal
from stackview.sight.camera import Camera
from stackview.spots.from_lights import EyePixels, light_from_lights
from tests.spots.small_scenes import body, faces_and_light, level_plane, light_points

CAMERA = Camera(0.0, 30.0, 800.0, (0.0, 0.0, 0.0), 2.0, (40, 40))
PIXELS = EyePixels(CAMERA, np.arange(1600, dtype=np.int32).reshape(40, 40), np.zeros(1600, np.int32))
WAYS = 40_000


def thrown(bodies, seed: int = 1):
    points = light_points([[0.0, 0.0, 30.0]], [0.0, 0.0, -1.0])
    around = faces_and_light(bodies, points)
    return light_from_lights(around, PIXELS, WAYS, 4, np.random.default_rng(seed))


def test_light_through_a_clear_plate_falls_on_opal_less_what_the_plate_reflects() -> None:
    white = level_plane(Opal(0.0, 1.0, 0.0), part=0)
    # A plate just under the light point, which the eye looks in beneath.
    box = trimesh.creation.box((40.0, 40.0, 2.0))
    box.apply_translation([0.0, 0.0, 27.0])
    light = thrown([white, body(box, Clear(), part=1)])
    mean = light.value.sum() / 1600
    # The plane alone, as from_eye's test has it, at 29.9 mm; 2n/(n² + 1) passes straight on, less at a slant.
    eye, high = CAMERA.eye, 29.9
    steps = (np.arange(40) + 0.5 - 20) * CAMERA.pixel
    right, up, away = CAMERA.axes
    ways = away + steps[:, None, None] * right + steps[None, :, None] * up
    at = eye - eye[2] / ways[..., 2:] * ways
    square = (at[..., :2] ** 2).sum(axis=-1) + high**2
    bare = (10.0 / np.pi * high**2 / square**2).mean() / np.pi * 1e6
    assert 0.88 * bare < mean < 0.97 * bare


def test_groups_share_the_light_evenly() -> None:
    box = trimesh.creation.box((40.0, 40.0, 2.0))
    box.apply_translation([0.0, 0.0, 27.0])
    light = thrown([level_plane(Opal(0.0, 1.0, 0.0), part=0), body(box, Clear(), part=1)])
    each = np.bincount(light.cell // 1600, light.value, minlength=4)
    assert each == pytest.approx([each.mean()] * 4, rel=0.2)


def test_what_the_first_face_spreads_is_left_to_the_eye() -> None:
    assert len(thrown([level_plane(Opal(0.0, 1.0, 0.0))]).value) == 0
    assert len(thrown([level_plane(Matt((1.0, 1.0, 1.0)))]).value) == 0
