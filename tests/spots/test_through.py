"""Light points joined through a second face: the same light, known better."""

import numpy as np
import pytest
import trimesh

from stackview.glow.skins import Matt, Sanded
from stackview.sight.camera import Camera, rays
from stackview.sight.refraction import INDEX
from stackview.spots import from_eye
from stackview.spots.from_eye import light_from_eye
from stackview.spots.ways import Going
from tests.spots.small_scenes import body, faces_and_light, light_points

COUNT = 12_000


def seen(around, camera: Camera, seed: int = 1, count: int = COUNT):
    """Light by ways: (count,)."""
    chance = np.random.default_rng(seed)
    columns, rows = chance.random(count) * camera.size[0], chance.random(count) * camera.size[1]
    travel = np.ascontiguousarray(rays(camera, columns, rows).T)
    light = light_from_eye(around, camera.eye, travel, np.arange(count, dtype=np.int32), chance)
    return np.bincount(light.cell, light.value.astype(float), minlength=count)


def edge_lit(alpha: float):
    """A bar lit at one end, seen from the other."""
    bar = trimesh.creation.box((40.0, 60.0, 5.0))
    points = light_points([[-26.0, 16.0 * k, 0.0] for k in (-1, 0, 1)], [1.0, 0.0, 0.0], face=3.0)
    camera = Camera(90.0, 10.0, 600.0, (20.0, 0.0, 0.0), 0.4, (40, 40))
    return faces_and_light([body(bar, Sanded(alpha))], points), camera


def glued_bar(alpha: float):
    """The same bar on white wood that it is glued to, seen from above: the wood reaches a hair into it."""
    bar, wood = trimesh.creation.box((40.0, 60.0, 5.0)), trimesh.creation.box((39.0, 59.0, 5.0))
    wood.apply_translation((0.0, 0.0, -5.0 + 0.02))
    points = light_points([[-26.0, 16.0 * k, 0.0] for k in (-1, 0, 1)], [1.0, 0.0, 0.0], face=3.0)
    camera = Camera(90.0, 70.0, 600.0, (10.0, 0.0, 0.0), 1.5, (40, 40))
    return faces_and_light([body(bar, Sanded(alpha)), body(wood, Matt((0.8, 0.8, 0.8)), 1)], points), camera


def not_through(monkeypatch: pytest.MonkeyPatch) -> None:
    """Follow ways without those lines."""

    def unmarked(_self, going: Going, _inwards) -> np.ndarray:
        return np.full(len(going.origin), -1, np.int32)

    monkeypatch.setattr(from_eye._FromEye, "join_through", unmarked)


@pytest.mark.parametrize("alpha", [pytest.param(0.1, marks=pytest.mark.slow), 0.3])
def test_light_is_the_same_with_those_lines_and_without_and_scatters_less(
    monkeypatch: pytest.MonkeyPatch, alpha: float
) -> None:
    around, camera = edge_lit(alpha)
    own = seen(around, camera)
    not_through(monkeypatch)
    plain = seen(around, camera, 2, 4 * COUNT)
    error = np.hypot(own.std() / np.sqrt(len(own)), plain.std() / np.sqrt(len(plain)))
    assert own.mean() == pytest.approx(plain.mean(), abs=3 * error)
    assert error < 0.08 * own.mean()
    assert own.std() / own.mean() < 0.7 * plain.std() / plain.mean()


@pytest.mark.slow
def test_wood_that_a_bar_is_glued_to_gets_the_same_light_and_scatters_less(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    around, camera = glued_bar(0.3)
    own = seen(around, camera)
    not_through(monkeypatch)
    plain = seen(around, camera, 2, 4 * COUNT)
    error = np.hypot(own.std() / np.sqrt(len(own)), plain.std() / np.sqrt(len(plain)))
    assert own.mean() == pytest.approx(plain.mean(), abs=3 * error)
    assert error < 0.15 * own.mean()
    assert own.std() / own.mean() < 0.5 * plain.std() / plain.mean()


def test_a_light_point_behind_a_nearly_smooth_sheet_loses_what_two_faces_reflect() -> None:
    sheet = trimesh.creation.box((400.0, 400.0, 4.0))
    points = light_points([[0.0, 0.0, -10.0]], [0.0, 0.0, 1.0], face=3.0)
    around = faces_and_light([body(sheet, Sanded(0.1))], points)
    wide, count = 10.0, 2 * COUNT
    field = 2.0 * np.degrees(np.arctan(wide / 2.0 / 1500.0))
    camera = Camera(0.0, 89.9, 1500.0, (0.0, 0.0, 0.0), field, (40, 40))
    light = seen(around, camera, count=count)
    # A sheet with parallel faces shows it as large as it is. Two faces, with all reflections between them: (1 − R)/(1 + R),
    # R = ((n − 1)/(n + 1))² (Born & Wolf, §7.6); what its lobes lose by roughness 0.1 is within the 5 %.
    reflected = ((INDEX - 1) / (INDEX + 1)) ** 2
    exact = (1 - reflected) / (1 + reflected) * 3.0**2 / wide**2
    error = light.std() / np.sqrt(count) / light.mean()
    assert error < 0.06
    assert light.mean() / around.emitters.luminance[0] == pytest.approx(exact, rel=0.05 + 2 * error)
