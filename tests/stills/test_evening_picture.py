"""A still by evening: opal glows evenly, the table is lit, and light points are as bright as they are."""

import numpy as np
import pytest

from stackview.light.colour import LUMINANCE
from stackview.sight.camera import frame
from stackview.stills.evening_picture import evening_picture, luminances
from stackview.stills.setting import Setting
from stackview.study import Study
from tests.stills.opal_tube import opal_tube


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Study, Setting]:
    return opal_tube(tmp_path_factory.mktemp("tube"))


@pytest.mark.slow
def test_an_opal_tube_glows_evenly_and_the_table_beside_it_is_lit(built: tuple[Study, Setting]) -> None:
    """Dots of its light points once showed through, and none of its light fell on the table."""
    study, setting = built
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
