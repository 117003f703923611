from dataclasses import replace

import numpy as np
import pytest

from stackview.description.material import Material, Optics
from stackview.photographs.wood_over import mean_colours, wood_over
from stackview.sight.camera import Camera
from stackview.stills.surface import surface_colour
from tests.stills.lamps import ALUMINIUM, CHERRY, CLEAR, WALNUT, part, prism, rounded

BOARD = Material("mdf", "board", "mdf", "opaque", 750, (0.35, 0.25, 0.16))


def block(material: Material, low: float = 0.0, name: str = "block"):
    return part(name, prism([rounded(100, 80, 2, 0)], low, low + 20), material)


def above(size: tuple[int, int] = (80, 60), height: float = 10.0) -> Camera:
    """Straight down, 2 mm a pixel at the block's top."""
    return Camera(0.0, 90.0, 3000.0, (0.0, 0.0, height), 2.2914, size, parallel=True)


def test_metal_and_painted_wood_stay_plain() -> None:
    painted = replace(WALNUT, optics=Optics(coat="paint"))
    for material in (ALUMINIUM, painted):
        assert (wood_over([block(material)], above()) == 1.0).all()


def test_the_factor_is_the_boards_own_colour_over_the_mean() -> None:
    lamp, camera = [block(CHERRY)], above()
    factor = wood_over(lamp, camera)
    mean = mean_colours(lamp)[0]
    # Looking straight down, right is +x and up is +y; the middle of pixel (row, column).
    for row, column in ((30, 40), (22, 31), (40, 55)):
        x, y = ((column + 0.5 - 40) / camera.scale, (30 - row - 0.5) / camera.scale)
        at = np.array([[x, y, 20.0]], np.float32)
        grain = np.array([1.0 / camera.scale], np.float32)
        want = surface_colour(lamp[0], at, np.array([[0, 0, 1]], np.float32), grain)[0] / mean
        assert factor[row, column] == pytest.approx(want, rel=0.02)


def test_outside_the_wood_nothing_changes_and_the_rim_is_between() -> None:
    factor = wood_over([block(WALNUT)], above((80, 60)))
    assert (factor[:5] == 1.0).all()
    assert (factor[:, :5] == 1.0).all()
    inside = factor[20:40, 25:55]
    assert inside.std() > 0.03


def test_wood_behind_a_clear_plate_stays_plain() -> None:
    factor = wood_over([block(WALNUT), block(CLEAR, 40.0, "plate")], above())
    assert (factor[15:45, 20:60] == 1.0).all()


def test_the_mean_is_that_of_the_material_over_all_its_parts() -> None:
    lamp = [block(WALNUT), block(WALNUT, 30.0, "other"), block(BOARD, 60.0, "third"), block(ALUMINIUM, 90.0)]
    means = mean_colours(lamp)
    assert set(means) == {0, 1, 2}
    assert (means[0] == means[1]).all()
    # Specks of a board are as often lighter as darker.
    assert means[2] == pytest.approx(BOARD.colour, rel=0.02)
    # Marks of wood darken it, by no more than their depth.
    assert (means[0] < np.array(WALNUT.colour) * 1.1).all()
    assert (means[0] > np.array(WALNUT.colour) * 0.4).all()


def test_the_same_picture_each_time() -> None:
    lamp = [block(CHERRY)]
    assert (wood_over(lamp, above()) == wood_over(lamp, above())).all()
