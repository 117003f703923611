"""What lies on wood of a plate that is lit from behind is no part of what glows."""

import numpy as np
import pytest

from stackview.description.lamp_file import LampFile
from stackview.glow.landings import landings_of, without_landings
from stackview.sight.camera import Camera, project
from stackview.study import Study

LID = """
name = "Lid"
cutter = 1
materials.wood = { wood = "ash", sold = 20 }
materials.pane = { acrylic = "opal", sold = 4 }
layer = [
    { name = "base", material = "wood", outline = { circle = 160 } },
    { name = "ring", material = "wood", outline = { circle = 160 }, opening = { circle = 100 } },
    { name = "pane", material = "pane", outline = { circle = 160 } },
]
light = [{ diode = { on = "base" }, watts = 1 }]
"""
ABOVE = Camera(0.0, 60.0, 900.0, (0.0, 0.0, 44.0), 16.0, (200, 150))
BELOW = Camera(0.0, -60.0, 900.0, (0.0, 0.0, 44.0), 16.0, (200, 150))


def test_a_lid_lands_on_its_ring() -> None:
    stack = Study(LampFile.from_text(LID)).stack
    (one,) = landings_of(stack, np.array([20.0]))
    assert (stack.placed[one.part].name, one.height, one.upwards) == ("pane", pytest.approx(44.0), True)
    assert one.area.area == pytest.approx(np.pi * (80.0**2 - 50.0**2), rel=0.01)
    # With a light point above it, or beside it, it glows by what falls on its face.
    assert landings_of(stack, np.array([20.0, 60.0])) == landings_of(stack, np.array([42.0])) == ()
    assert landings_of(stack, np.zeros(0)) == ()


@pytest.mark.parametrize("camera", [ABOVE, BELOW])
def test_pixels_are_left_out_where_the_landing_shows(camera: Camera) -> None:
    landings = landings_of(Study(LampFile.from_text(LID)).stack, np.array([20.0]))
    turn = np.linspace(0.0, 2.0 * np.pi, 60, endpoint=False)
    mask = np.ones((150, 200), bool)
    kept = without_landings(landings, landings[0].part, camera, mask)
    part = without_landings(landings, landings[0].part, camera, mask[40:, 30:], top=40, left=30)
    assert (part == kept[40:, 30:]).all()
    for radius, stays in ((48.0, True), (52.0, camera is BELOW), (78.0, camera is BELOW), (82.0, True)):
        rim = np.stack([radius * np.cos(turn), radius * np.sin(turn), np.full(60, 44.0)], axis=1)
        column, row = np.floor(project(camera, rim)).astype(int).T
        assert (kept[row, column] == stays).all(), radius
    assert without_landings(landings, 0, camera, mask) is mask


def test_what_shows_nothing_but_its_landing_stays() -> None:
    landings = landings_of(Study(LampFile.from_text(LID)).stack, np.array([20.0]))
    mask = np.zeros((150, 200), bool)
    column, row = np.floor(project(ABOVE, np.array([[0.0, -65.0, 44.0]]))).astype(int)[0]
    mask[row - 3 : row + 3, column - 3 : column + 3] = True
    assert (without_landings(landings, landings[0].part, ABOVE, mask) == mask).all()
