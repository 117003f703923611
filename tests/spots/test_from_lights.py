"""Ways from the light points: light that enters acrylic by a clear face, against closed forms."""

import numpy as np
import pytest
import trimesh

from stackview.glow.skins import Clear, Matt, Opal
from stackview.sight.camera import Camera
from stackview.spots.from_eye import light_from_eye
from stackview.spots.from_lights import EyePixels, light_from_lights
from tests.spots.small_scenes import body, faces_and_light, level_plane, light_points

CAMERA = Camera(0.0, 30.0, 800.0, (0.0, 0.0, 0.0), 2.0, (40, 40))
PIXELS = EyePixels(CAMERA, np.arange(1600, dtype=np.int32).reshape(40, 40), np.zeros(1600, np.int32))
WAYS = 40_000


def thrown(bodies, seed: int = 1):
    points = light_points([[0.0, 0.0, 30.0]], [0.0, 0.0, -1.0])
    around = faces_and_light(bodies, points)
    return light_from_lights(around, PIXELS, WAYS, 4, np.random.default_rng(seed))


def plate(tilt: float = 0.0):
    """A clear plate just under the light point, which the eye looks in beneath; tilted by so many degrees."""
    box = trimesh.creation.box((40.0, 40.0, 2.0))
    box.apply_transform(trimesh.transformations.rotation_matrix(np.radians(tilt), [1.0, 0.0, 0.0]))
    box.apply_translation([0.0, 0.0, 26.0])
    return body(box, Clear(), part=1)


def ways_down():
    """From the eye through the middles of all pixels (40, 40, 3)."""
    steps = (np.arange(40) + 0.5 - 20) * CAMERA.pixel
    right, up, away = CAMERA.axes
    return away + steps[None, :, None] * right - steps[:, None, None] * up


def seen_bare() -> float:
    """Mean luminance of the plane alone, as from_eye's test has it, at 29.9 mm."""
    eye, high, ways = CAMERA.eye, 29.9, ways_down()
    at = eye - eye[2] / ways[..., 2:] * ways
    square = (at[..., :2] ** 2).sum(axis=-1) + high**2
    return float((10.0 / np.pi * high**2 / square**2).mean() / np.pi * 1e6)


WHITE_OPAL = level_plane(Opal(0.0, 1.0, 0.0), part=0)


def test_light_through_a_clear_plate_falls_on_opal_less_what_the_plate_reflects() -> None:
    """2n/(n² + 1) passes straight on, less at a slant."""
    mean = thrown([WHITE_OPAL, plate(8.0)]).value.sum() / 1600
    assert 0.88 * seen_bare() < mean < 0.97 * seen_bare()


def test_a_level_plate_s_light_is_found_from_the_eye_and_what_bounces_in_it_from_the_light() -> None:
    points = light_points([[0.0, 0.0, 30.0]], [0.0, 0.0, -1.0])
    around = faces_and_light([WHITE_OPAL, plate()], points)
    ways = ways_down().reshape(-1, 3)
    travel = np.tile((ways / np.linalg.norm(ways, axis=1, keepdims=True)).T, 4).astype(np.float32)
    none = np.zeros(travel.shape[1], np.int32)
    seen = light_from_eye(around, CAMERA.eye.astype(np.float32), travel, none, np.random.default_rng(2))
    bounced = thrown([WHITE_OPAL, plate()]).value.sum() / 1600
    straight = seen.value.sum() / travel.shape[1]
    assert 0.88 * seen_bare() < straight + bounced < 0.97 * seen_bare()
    # (1 − R)² passes at once, of which R² is thrown back twice.
    assert bounced < 0.02 * straight


def test_groups_share_the_light_evenly() -> None:
    light = thrown([WHITE_OPAL, plate(8.0)])
    each = np.bincount(light.cell // 1600, light.value, minlength=4)
    assert each == pytest.approx([each.mean()] * 4, rel=0.2)


def test_what_the_first_face_spreads_is_left_to_the_eye() -> None:
    assert len(thrown([WHITE_OPAL]).value) == 0
    assert len(thrown([level_plane(Matt((1.0, 1.0, 1.0)))]).value) == 0
