"""What faces do: opal and matt faces keep their shares, and directions are by the cosine."""

import numpy as np
import pytest
import trimesh

from stackview.glow.skins import Matt, Metal, Opal
from stackview.spots.at_faces import cosine_about
from stackview.spots.from_eye import light_from_eye
from tests.spots.small_scenes import body, faces_and_light, light_points


def test_directions_about_a_normal_are_by_the_cosine() -> None:
    normal = np.repeat(np.array([[0.6], [0.0], [0.8]], np.float32), 50_000, axis=1)
    way = cosine_about(normal, np.random.default_rng(1))
    cosine = (way * normal).sum(axis=0)
    assert cosine.min() > -1e-6
    # Mean of cosθ is 2/3, of cos²θ 1/2 (closed form of the cosine law).
    assert cosine.mean() == pytest.approx(2 / 3, abs=0.005)
    assert (cosine**2).mean() == pytest.approx(1 / 2, abs=0.005)


def straight_down(skin, count: int = 20_000):
    """Luminance of a thin plate from straight above, over that of a large light point close beneath it."""
    points = light_points([[0.0, 0.0, -60.0]], [0.0, 0.0, 1.0], face=400.0)
    plate = trimesh.creation.box((600.0, 600.0, 0.5))
    around = faces_and_light([body(plate, skin)], points)
    travel = np.repeat(np.array([[0.0], [0.0], [-1.0]], np.float32), count, axis=1)
    cell = np.zeros(count, np.int32)
    light = light_from_eye(around, np.array([0.0, 0.0, 300.0]), travel, cell, np.random.default_rng(2))
    return light.value.sum() / count / around.emitters.luminance[0]


def test_opal_passes_unspread_what_it_passes_unspread() -> None:
    # Both faces pass a part of it, and nothing comes back in this dark surround.
    assert straight_down(Opal(0.0, 0.0, 0.6)) == pytest.approx(0.36, abs=0.015)


def test_opal_over_an_even_light_passes_what_a_pile_of_two_faces_does() -> None:
    # T = τ²/(1 − ρ²) (Stokes 1862); the light, 400 mm wide 60 mm below, fills 0.92 of the half sphere
    # by the cosine (form factor of a square: 4·x/√(1 + x²)·atan(x/√(1 + x²))·2/2π at x = 200/60), and
    # what the plate throws down comes back from its face at 0.45.
    x = 200.0 / 60.0
    filled = 4 / np.pi * x / np.sqrt(1 + x * x) * np.arctan(x / np.sqrt(1 + x * x))
    through, back = 0.6**2 / (1 - 0.4**2), 0.4 + 0.6**2 * 0.4 / (1 - 0.4**2)
    share = straight_down(Opal(0.6, 0.4, 0.0))
    assert through * filled < share < through * filled / (1 - 0.5 * back)


@pytest.mark.parametrize("skin", [Matt((0.5, 0.5, 0.5)), Metal((0.7, 0.7, 0.7))])
def test_opaque_faces_let_nothing_pass(skin) -> None:
    assert straight_down(skin) == 0.0
