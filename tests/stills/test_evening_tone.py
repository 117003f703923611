import numpy as np
import pytest

from stackview.light.colour import LUMINANCE, light_colour
from stackview.light.evening import PICTURED_LUMINANCE
from stackview.stills.evening_tone import DIM, by_evening, lit_level

WARM = light_colour(2700.0) / (light_colour(2700.0) @ LUMINANCE)


def lamp() -> np.ndarray:
    """A room, and a lamp of walnut with three lit plates and one bare point."""
    light = np.full((240, 320, 3), 0.4, np.float32) * WARM.astype(np.float32)
    light[60:200, 100:220] = 0.05 * WARM
    for top in (80, 120, 160):
        light[top : top + 10, 100:220] = 500.0 * WARM
    light[140:143, 160:163] = 2e5 * WARM
    return light


def test_the_level_is_that_of_the_plates_and_not_of_one_point() -> None:
    light = lamp()
    without = lit_level(light)
    assert without == pytest.approx(500.0, rel=0.1)
    light[100, 100] = 1e7
    assert lit_level(light) == pytest.approx(without, rel=0.02)
    assert lit_level(np.zeros((20, 30, 3), np.float32)) == DIM * PICTURED_LUMINANCE


def test_what_glows_is_bright_and_the_room_is_seen() -> None:
    shown = by_evening(lamp() + np.float32(PICTURED_LUMINANCE)).astype(float).mean(axis=2)
    assert shown[82:88, 110:210].mean() > 170
    assert 25 < shown[:40].mean() < 110
