"""Continuous strips spread along themselves."""

import numpy as np
import pytest

from stackview.description.light_source import Diode, Runs, Strip
from stackview.glow.shining_points import spread_along
from stackview.light.layout import lay_out
from tests.light.lamps import stack_with


def strip(continuous: bool) -> Runs:
    return Runs(Strip(5.0, 5.0, 8.0, 2.0, continuous=continuous), 2, 0.0, 10.0, 60.0)


def test_continuous_strip_is_four_times_as_fine_with_the_same_light() -> None:
    light = lay_out(stack_with(strip(True)))
    lumens = np.arange(1.0, len(light.points) + 1.0)
    found = spread_along(light, lumens)
    assert len(found.points) == 4 * len(light.points)
    assert found.lumens.sum() == pytest.approx(lumens.sum())
    middles = found.points.centres.reshape(-1, 4, 3).mean(axis=1)
    assert middles == pytest.approx(light.points.centres)
    assert found.continuous.all()
    first = found.points.centres[:8, 2]
    assert np.diff(np.sort(first)) == pytest.approx(1.25)


def test_leds_stay_as_they_are() -> None:
    for layout in (strip(False), Diode("base", "up", (0.0, 0.0), 3.0, 0.0, 0.0)):
        light = lay_out(stack_with(layout))
        found = spread_along(light, np.ones(len(light.points)))
        assert found.points.centres == pytest.approx(light.points.centres)
        some, lumens = found.at(np.array([0]))
        assert (len(some), lumens.tolist()) == (1, [1.0])
