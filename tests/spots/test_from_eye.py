"""Ways from the eye against closed forms."""

import numpy as np
import pytest
import trimesh

from stackview.glow.skins import Clear, Matt, Mirror, Opal, Sanded
from stackview.light.colour import LUMINANCE
from stackview.sight.camera import Camera, rays
from stackview.spots.from_eye import light_from_eye
from tests.spots.small_scenes import body, faces_and_light, level_plane, light_points

CAMERA = Camera(0.0, 30.0, 800.0, (0.0, 0.0, 0.0), 2.0, (60, 60))
COUNT = 20_000


def seen(around, seed: int = 1, camera: Camera = CAMERA, count: int = COUNT):
    chance = np.random.default_rng(seed)
    columns, rows = chance.random(count) * camera.size[0], chance.random(count) * camera.size[1]
    travel = np.ascontiguousarray(rays(camera, columns, rows).T)
    light = light_from_eye(around, camera.eye, travel, np.zeros(count, np.int32), chance)
    return light, travel


@pytest.mark.parametrize("skin", [Matt((1.0, 1.0, 1.0)), Opal(0.0, 1.0, 0.0)])
@pytest.mark.parametrize("centres", [[[0, 0, 30.0]], [[10.0 * k, 0, 30.0] for k in range(-3, 4)]])
def test_a_white_plane_is_as_bright_as_inverse_squares_say(skin, centres) -> None:
    points = light_points(centres, [0, 0, -1])
    light, travel = seen(faces_and_light([level_plane(skin)], points))
    eye = CAMERA.eye
    x, y = (eye[k] - eye[2] / travel[2] * travel[k] for k in (0, 1))
    # E = Σ I·cos²/d², I = Φ/π·cos; L = E/π. The faces are lifted 0.1 mm off their carrier.
    high = 29.9
    square = [(x - a) ** 2 + (y - b) ** 2 + high**2 for a, b, _ in centres]
    exact = sum(10.0 / np.pi * high**2 / own / own for own in square).mean() / np.pi * 1e6
    assert light.value.sum() / COUNT == pytest.approx(exact, rel=0.02)


def test_a_light_point_in_a_mirror_is_as_bright_as_it_is() -> None:
    points = light_points([[0.0, 0.0, 10.0]], [0.0, 0.0, -1.0], face=4.0)
    camera = Camera(0.0, 60.0, 500.0, (0.0, 0.0, 0.0), 8.0, (60, 60))
    around = faces_and_light([level_plane(Mirror((0.9, 0.9, 0.9)))], points)
    light, _ = seen(around, camera=camera)
    assert light.plain.all()
    # Metal is followed by chance: those that come back carry all of it.
    assert light.value == pytest.approx(np.full(len(light.value), around.emitters.luminance[0]), rel=1e-4)


def test_light_through_a_clear_plane_is_come_upon_and_less_what_it_reflects() -> None:
    points = light_points([[0.0, 0.0, -10.0]], [0.0, 0.0, 1.0], face=60.0)
    camera = Camera(0.0, 89.0, 500.0, (0.0, 0.0, 0.0), 1.0, (40, 40))
    slab = [level_plane(Clear(), 0.0)]
    around = faces_and_light(slab, points)
    light, _ = seen(around, camera=camera)
    n = 1.49
    # What the light point's own face throws back, and the clear one again, comes on top.
    assert light.value[light.plain].sum() / COUNT == pytest.approx(
        around.emitters.luminance[0] * (1 - ((n - 1) / (n + 1)) ** 2), rel=0.01
    )


def test_a_sanded_plane_from_above_shows_little_and_no_light_point_shines_on_itself() -> None:
    points = light_points([[0, 0, 30.0]], [0, 0, -1])
    sanded, _ = seen(faces_and_light([level_plane(Sanded(0.3))], points))
    white, _ = seen(faces_and_light([level_plane(Matt((1.0, 1.0, 1.0)))], points))
    # Reflected at about 4 %, in a lobe that points elsewhere or here.
    assert 0.0 < sanded.value.sum() < 0.2 * white.value.sum()


def test_nothing_described_gives_no_light() -> None:
    points = light_points([[0, 0, -500.0]], [0, 0, -1])
    light, _ = seen(faces_and_light([level_plane(Matt((0.0, 0.0, 0.0)))], points))
    assert len(light.value) == 0


def test_coloured_walls_light_each_other_channel_by_channel() -> None:
    """In a closed sphere lit from its middle, what has been thrown back twice or more is even: Φ/(πA)·ρ²/(1 − ρ).

    Of the integrating sphere (Goebel 1967). One grey for the three channels would give a third of it.
    """
    ball = trimesh.creation.icosphere(4, 50.0)
    ball.invert()
    red = (0.9, 0.5, 0.1)
    points = light_points([(0.0, 0.0, 0.0)], (0.0, 0.0, -1.0), face=0.2)
    chance = np.random.default_rng(4)
    # Towards the upper half alone, where the light point does not shine.
    up = chance.standard_normal((3, COUNT)).astype(np.float32)
    up[2] = np.abs(up[2]) + 0.2
    up /= np.sqrt((up * up).sum(axis=0))
    eye = np.array([0.0, 0.0, 5.0], np.float32)
    around = faces_and_light([body(ball, Matt(red))], points)
    light = light_from_eye(around, eye, up, np.zeros(COUNT, np.int32), chance)
    exact = (
        sum(w * r**2 / (1.0 - r) for w, r in zip(LUMINANCE, red, strict=True))
        * 10.0
        / np.pi
        / ball.area
        * 1e6
    )
    assert light.value.sum() / COUNT == pytest.approx(exact, rel=0.05)
