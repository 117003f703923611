"""The way of light to an eye: bent at each face as Snell's law says, and into the eye."""

import numpy as np
import pytest
from scipy.optimize import brentq

from stackview.sight.clear_bodies import clear_bodies
from stackview.sight.refraction import INDEX
from stackview.sight.scene import scene_of
from stackview.sight.way_to_eye import way_to_eye
from tests.lamps import box

EYE = np.array([0.0, -600.0, 300.0])


def pane(body: str = "clear"):  # type: ignore[no-untyped-def]
    return clear_bodies(scene_of((box("pane", (-200.0, -30.0, -200.0), (200.0, -20.0, 200.0), body),)))  # type: ignore[arg-type]


@pytest.mark.parametrize("off", [0.0, 0.02, -0.05])
def test_light_bends_at_both_faces_of_a_pane_and_meets_the_eye(off: float) -> None:
    """A level gap of 20 mm, a pane of 10 mm, 570 mm to the eye, 300 mm higher: one equation in the slope outside."""

    def inside(outside: float) -> float:
        return float(np.tan(np.arcsin(np.sin(np.arctan(outside)) / INDEX)))

    slope = brentq(lambda outside: 590.0 * outside + 10.0 * inside(outside) - 300.0, 0.0, 2.0)
    way = way_to_eye(pane(), np.zeros(3), np.array([off, -1.0, slope + off]), EYE)
    assert way is not None
    first = 20.0 * slope
    expected = [[0.0, 0.0, 0.0], [0.0, -20.0, first], [0.0, -30.0, first + 10.0 * inside(slope)]]
    # 1 mm beside the eye is 1/60 of that where it leaves the pane.
    assert way == pytest.approx(np.array(expected), abs=0.05)


def test_where_no_light_goes_there_is_no_way() -> None:
    assert way_to_eye(None, np.zeros(3), np.array([0.0, -1.0, 0.0]), EYE) is None
    assert way_to_eye(pane("opal"), np.zeros(3), np.array([0.0, -1.0, 0.5]), EYE) is None
    # Away from the eye.
    assert way_to_eye(pane(), np.zeros(3), np.array([0.0, 1.0, 0.0]), EYE) is None
