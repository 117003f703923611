"""Thin walls in stills: a lamp that is closed all round keeps its light, however thin its walls are."""

from pathlib import Path

import numpy as np
import pytest

from stackview.light.colour import LUMINANCE
from stackview.stills.kept_light import baked
from stackview.stills.setting import assembled
from stackview.study import Study
from tests.stills.opal_tube import STRIP

CLOSED = """
name = "Closed"
materials.ash = { wood = "ash", sold = 30 }
materials.post = { metal = "aluminium", coat = "paint" }

[[layer]]
name = "base"
material = "ash"
outline = { circle = 60 }

[[layer]]
name = "shade"
material = "ash"
outline = { circle = 44 }
wall = WALL

[[layer]]
name = "lid"
material = "ash"
outline = { circle = 60 }

[core]
material = "post"
outline = { circle = 16 }
height = 28
stands_on = "base"
"""


@pytest.mark.parametrize("wall", [3, pytest.param(10, marks=pytest.mark.slow)])
def test_no_light_comes_out_under_the_walls_of_a_closed_lamp(tmp_path: Path, wall: int) -> None:
    """What is outside gets none of the lamp's light: nothing opaque lets any through."""
    file = tmp_path / "closed.toml"
    file.write_text(CLOSED.replace("WALL", str(wall)) + STRIP)
    study = Study.read(file)
    lit = baked(assembled(study.stack, study.light))
    mesh, light = lit.walls, lit.wall_light.lamp @ LUMINANCE
    at = mesh.vertices[mesh.at]
    away = np.hypot(at[:, 0], at[:, 1])
    ledge = (away > 22.2) & (mesh.owner == 0) & (mesh.normals[:, 2] > 0.5)
    round_it = (away > 21.9) & (mesh.owner == 1) & (np.abs(mesh.normals[:, 2]) < 0.5)
    within = (away < 22.0 - wall - 1.0) & (mesh.owner == 0) & (mesh.normals[:, 2] > 0.5)
    assert ledge.sum() > 30 < round_it.sum()
    assert light[ledge].max() == light[round_it].max() == 0.0
    assert light[within].mean() > 0.3
    assert lit.ground is not None
    assert lit.ground.lamp.max() == 0.0
