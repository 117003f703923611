"""Heights at which light through clear acrylic is seen over a circle, against eyes of that circle one by one."""

import numpy as np
import pytest

from stackview.description.lamp import Surface
from stackview.sight.beams import traced
from stackview.sight.glazed_eyes import glazed_round
from stackview.sight.glazed_slices import Tubes, slices
from tests.sight.test_glazed_eyes import lamp


@pytest.mark.slow
def test_heights_are_those_at_which_an_eye_of_the_circle_sees_the_point() -> None:
    scene, points = lamp(1)
    beams = traced(scene, points)
    tubes, bearings, table = Tubes.of(beams), np.radians(np.arange(0.0, 360.0, 4.0)), Surface(700.0, (900.0,))
    rng = np.random.default_rng(2)
    wrong = checked = 0
    for distance, height in zip(rng.uniform(300.0, 3000.0, 8), rng.uniform(-100.0, 300.0, 8), strict=True):
        found = slices(tubes, float(distance), bearings, -700.0, 1800.0, table)
        shows = np.zeros((len(points), len(bearings)), dtype=bool)
        held = (found.low < height) & (height < found.high)
        shows[found.point[held], found.at[held]] = True
        eyes = np.stack(
            [distance * np.sin(bearings), -distance * np.cos(bearings), np.full(len(bearings), height)],
            axis=1,
        )
        # A tenth of a degree is what glazed is good to: nearer to an end either may be right.
        exact = glazed_round(beams, eyes, table)
        beside = [
            glazed_round(beams, eyes + np.array([0.0, 0.0, off]), table)
            for off in (-0.0018 * distance, 0.0018 * distance)
        ]
        sure = (exact == beside[0]) & (exact == beside[1])
        wrong += int((shows != exact)[sure].sum())
        checked += int(exact[sure].sum())
    assert checked > 20
    assert wrong <= 0.01 * checked
