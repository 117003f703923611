"""The lamp's own light in a still by evening: as bright as the light that was followed, on acrylic and on the table."""

import numpy as np
import pytest

from stackview.light.colour import LUMINANCE
from stackview.sight.camera import frame
from stackview.stills.bake import Baked
from stackview.stills.evening_picture import evening_picture, luminances
from stackview.stills.kept_light import baked
from stackview.stills.laid_light import areas, truly_lit
from stackview.stills.setting import Setting, assembled
from stackview.study import Study

TUBE = """
name = "Tube"
materials.ash = { wood = "ash", sold = 15 }
materials.milk = { acrylic = "opal", sold = 10 }
materials.post = { metal = "aluminium", coat = "paint" }
surface = { height = 700 }

[[layer]]
name = "base"
material = "ash"
outline = { circle = 100 }

[[groups.shade]]
name = "shade"
material = "milk"
outline = { circle = 80 }
wall = 4

[[layer]]
group = "shade"
repeat = 6

[[layer]]
name = "lid"
material = "ash"
outline = { circle = 100 }

[core]
material = "post"
outline = { circle = 24 }
wall = 2
height = 58
stands_on = "base"

[[light]]
helix = { pitch = 24 }
leds_per_metre = 60
width = 8
thickness = 2
watts_per_metre = 4.8
"""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Study, Setting]:
    file = tmp_path_factory.mktemp("tube") / "tube.toml"
    file.write_text(TUBE, encoding="utf-8")
    study = Study.read(file)
    return study, assembled(study.stack, study.light)


@pytest.fixture(scope="module")
def tube(built: tuple[Study, Setting]) -> tuple[Study, Setting, Baked]:
    study, setting = built
    return study, setting, truly_lit(study, baked(setting), setting.points, ways=65_536)


@pytest.mark.slow
def test_acrylic_glows_with_the_light_that_goes_out_of_it(tube: tuple[Study, Setting, Baked]) -> None:
    """Σ π·L·A over the tube's outside is nearly what leaves the lamp, for little else lets light out."""
    study, _, lit = tube
    mesh, area = lit.acrylic, areas(lit.acrylic)
    outside = np.hypot(*mesh.vertices[mesh.at][:, :2].T) > 39.0
    outside &= (mesh.normals[:, :2] * mesh.vertices[mesh.at][:, :2]).sum(axis=1) > 0.0
    held = (lit.sheet_light.lamp @ LUMINANCE) * 0.62
    lumens = float((np.pi * held * area)[outside].sum()) * 1e-6
    # Some of it falls on base and lid, and not all of that comes out again; a little is looked up beside its face.
    assert 0.93 < lumens / study.light_leaving.lumens < 1.5


@pytest.mark.slow
def test_the_table_gets_the_light_that_was_followed_to_it(tube: tuple[Study, Setting, Baked]) -> None:
    study, _, lit = tube
    assert lit.ground is not None
    line = np.linspace(-lit.ground.reach, lit.ground.reach, len(lit.ground.lamp))
    x, y = np.meshgrid(line, line)
    away = np.hypot(x, y) / lit.ground.reach
    near = (lit.ground.lamp @ LUMINANCE)[(away > 0.2) & (away < 0.3)]
    assert near.min() > 0.5 * near.mean() > 0.0
    # No more falls on it than leaves the lamp.
    cell = (line[1] - line[0]) ** 2
    assert (
        0.02
        < float((lit.ground.lamp @ LUMINANCE).sum() * np.pi * cell) * 1e-6 / study.light_leaving.lumens
        < 0.6
    )


@pytest.mark.slow
def test_an_opal_tube_glows_evenly_and_the_table_beside_it_is_lit(tube: tuple[Study, Setting, Baked]) -> None:
    """Dots of its light points once showed through, and none of its light fell on the table."""
    study, setting, _ = tube
    camera = frame(setting.body, bearing=30.0, elevation=14.0, size=(320, 240))
    picture = evening_picture(study, setting, camera).astype(float) @ LUMINANCE
    middle = picture[100:140, 150:170]
    assert middle.mean() > 180.0
    rows = middle.mean(axis=1)
    assert np.abs(rows - rows.mean()).max() < 12.0
    assert np.abs(middle - rows[:, None]).max() < 12.0
    beside, away = picture[-12:, 60:90].mean(), picture[4:12, 4:30].mean()
    assert beside > 1.3 * away


def test_a_light_points_luminance_is_its_flux_over_its_face(built: tuple[Study, Setting]) -> None:
    """Φ/(πA) for one that spreads as Lambert's law says, m = 1."""
    _, setting = built
    points = setting.points
    side = np.linalg.norm(points.corners[:, 1] - points.corners[:, 0], axis=1) / 1000.0
    tall = np.linalg.norm(points.corners[:, 3] - points.corners[:, 0], axis=1) / 1000.0
    assert (points.beams == 120.0).all()
    assert luminances(points) == pytest.approx(points.lumens / (np.pi * side * tall), rel=1e-3)
