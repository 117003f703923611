"""Light caught on matt faces behind clear acrylic: as much as closed forms say, and as ways find by luck."""

from dataclasses import replace

import numpy as np
import pytest
import trimesh

from stackview.glow.flux import Flux
from stackview.glow.scene import GlowScene, shining_faces
from stackview.glow.skins import Clear, Matt
from stackview.sight.camera import Camera
from stackview.sight.refraction import INDEX
from stackview.spots.caught_light import caught_light
from stackview.spots.light_choice import emitters_of
from tests.spots.small_scenes import WHITE, body, faces_and_light, light_points
from tests.spots.test_through import seen

FACE, GAP, THICK = 3.0, 40.0, 4.0
GIVES_BACK = 0.6
COUNT = 30_000


def lit_wall():
    """A light point before an upright clear sheet, a matt wall behind, and an eye that sees the wall through the sheet."""
    sheet = trimesh.creation.box((THICK, 400.0, 400.0))
    wall = trimesh.creation.box((2.0, 400.0, 400.0))
    wall.apply_translation((GAP - 10.0 + 1.0, 0.0, 0.0))
    points = light_points([[-10.0, 0.0, 0.0]], [1.0, 0.0, 0.0], face=FACE)
    bodies = [body(sheet, Clear()), body(wall, Matt((GIVES_BACK,) * 3), part=1)]
    around = faces_and_light(bodies, points)
    lights, wells = shining_faces(points, Flux(points.lumens.copy(), ()))
    scene = GlowScene((*bodies, *wells), lights, ())
    caught = caught_light(scene, points, WHITE, emitters_of(scene, points))
    # From aside, that the light point itself stands in nobody's way: the eye looks at the wall's middle.
    camera = Camera(270.0 - 20.0, 0.0, 900.0, (GAP - 10.0, 0.0, 0.0), 0.3, (40, 40))
    return around, replace(around, caught=caught), camera


def passed(cosine: float) -> float:
    """Share that a clear sheet lets pass, with all reflections between its faces (Born & Wolf, §7.6)."""
    within = np.sqrt(1.0 - (1.0 - cosine**2) / INDEX**2)
    across = (cosine - INDEX * within) / (cosine + INDEX * within)
    along = (INDEX * cosine - within) / (INDEX * cosine + within)
    lost = 0.5 * (across**2 + along**2)
    return float((1.0 - lost) / (1.0 + lost))


def test_a_wall_behind_an_upright_sheet_is_as_bright_as_closed_forms_say() -> None:
    _, around, camera = lit_wall()
    light = seen(around, camera, count=COUNT)
    # E = L·A/d² below the light point, through the sheet, which shows it nearer by (1 − 1/n) of its thickness.
    away = GAP - 0.1 - THICK * (1.0 - 1.0 / INDEX)
    lit = around.emitters.luminance[0] * FACE**2 / away**2 * passed(1.0)
    exact = lit * GIVES_BACK / np.pi * passed(np.cos(np.radians(20.0)))
    error = light.std() / np.sqrt(COUNT) / exact
    # Pieces of 3 mm, some hundred ways on each.
    assert error < 0.05
    assert light.mean() == pytest.approx(exact, rel=0.1 + 2 * error)


@pytest.mark.slow
def test_luck_finds_the_same_light_and_scatters_more() -> None:
    by_luck, around, camera = lit_wall()
    wide = replace(camera, field_of_view=8.0)
    own, luck = seen(around, wide, count=COUNT), seen(by_luck, wide, 2, 10 * COUNT)
    error = np.hypot(own.std() / np.sqrt(len(own)), luck.std() / np.sqrt(len(luck)))
    assert own.mean() == pytest.approx(luck.mean(), abs=3 * error + 0.03 * own.mean())
    assert own.std() / own.mean() < 0.3 * luck.std() / luck.mean()


def test_without_clear_faces_nothing_is_caught() -> None:
    points = light_points([[0.0, 0.0, 10.0]], [0.0, 0.0, -1.0])
    lights, _ = shining_faces(points, Flux(points.lumens.copy(), ()))
    scene = GlowScene((body(trimesh.creation.box((20.0, 20.0, 2.0)), Matt(WHITE)),), lights, ())
    assert caught_light(scene, points, WHITE, emitters_of(scene, points)) is None
