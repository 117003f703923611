"""The lamp's own light in a still by evening: as bright as the light that was followed, on acrylic and on the table."""

import numpy as np
import pytest

from stackview.light.colour import LUMINANCE
from stackview.stills.bake import Baked
from stackview.stills.kept_light import baked
from stackview.stills.laid_light import areas, truly_lit
from stackview.stills.setting import Setting
from stackview.study import Study
from tests.stills.opal_tube import opal_tube


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Study, Setting]:
    return opal_tube(tmp_path_factory.mktemp("tube"))


@pytest.fixture(scope="module")
def tube(built: tuple[Study, Setting]) -> tuple[Study, Setting, Baked]:
    study, setting = built
    return study, setting, truly_lit(study, baked(setting), setting.points, ways=65_536).lamp


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
    # A narrow ring, for the light falls off with the distance by itself.
    near = (lit.ground.lamp @ LUMINANCE)[(away > 0.24) & (away < 0.26)]
    assert near.min() > 0.5 * near.mean() > 0.0
    # No more falls on it than leaves the lamp.
    cell = (line[1] - line[0]) ** 2
    assert (
        0.02
        < float((lit.ground.lamp @ LUMINANCE).sum() * np.pi * cell) * 1e-6 / study.light_leaving.lumens
        < 0.6
    )
