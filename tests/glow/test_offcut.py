"""LEDs behind a sheet, as a scene."""

import numpy as np
import pytest

from stackview.glow.offcut import SIDES, Offcut, offcut_scene
from stackview.glow.skins import Clear, Sanded


@pytest.mark.parametrize("sanded", SIDES)
def test_faces_carry_the_finish_asked_for(sanded) -> None:  # type: ignore[no-untyped-def]
    scene = offcut_scene(Offcut(20.0, 4.0, 0.2, sanded), np.zeros((1, 2)), 1.0)
    skins = {body.name: body.skin for body in scene.bodies}
    assert skins["lamp side"] == (Clear() if sanded == "eye-side" else Sanded(0.2))
    assert skins["eye side"] == (Clear() if sanded == "lamp-side" else Sanded(0.2))
    assert skins["edge"] == Clear()


def test_sheet_is_closed_and_its_faces_look_outwards() -> None:
    scene = offcut_scene(Offcut(20.0, 4.0, 0.2, width=60.0), np.zeros((1, 2)), 1.0)
    volume = 0.0
    for body in scene.bodies:
        a, b, c = (body.vertices[body.triangles[:, k]] for k in range(3))
        volume += float((a * np.cross(b, c)).sum()) / 6.0
        flat = np.cross(b - a, c - a)
        assert ((flat * body.normals[body.triangles[:, 0]]).sum(axis=1) > 0).all()
    assert volume == pytest.approx(60.0 * 60.0 * 4.0)


def test_led_has_its_area_its_intensity_and_its_place() -> None:
    light = offcut_scene(Offcut(20.0, 4.0, 0.2), np.array([[5.0, -3.0]]), 1.5).lights[0]
    a, b, c = (light.vertices[light.triangles[:, k]] for k in range(3))
    flat = np.cross(b - a, c - a) / 2.0
    assert flat.sum(axis=0) == pytest.approx([0.0, 0.0, np.pi * 1.5**2])
    assert light.luminance[1] * flat[:, 2].sum() == pytest.approx(1.0)
    assert light.vertices.mean(axis=0) == pytest.approx([5.0, -3.0, -20.0])
