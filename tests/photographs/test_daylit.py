import numpy as np
import pytest

from stackview.glow.room import Room, daylight
from stackview.light.colour import LUMINANCE
from stackview.photographs.daylit import daylit
from stackview.sight.camera import Camera
from tests.photographs.test_lamplit import LAMP, luma, scene


def test_a_pale_room_comes_out_pale_and_the_lamp_still_glows() -> None:
    lamp, day, taken = scene()
    pixels = daylit(lamp, day, taken)
    assert 150 < luma(pixels)[:40].mean() < 225
    plates, wood = pixels[82:88, 110:210].mean(axis=(0, 1)), luma(pixels)[62:78, 105:215]
    assert luma(plates[None])[0] > luma(pixels)[:40].mean()
    assert plates[0] > plates[2] + 20
    assert 50 < wood.mean() < 150
    assert wood.mean(axis=1).std() > 4.0


def test_light_adds_up_and_nothing_is_compressed() -> None:
    lamp, day, taken = scene()
    one, other = daylit(lamp, day, taken), daylit(3 * lamp, 3 * day, taken)
    # The exposure takes up the factor whole; a rounding apart.
    assert np.abs(one.astype(int) - other).max() <= 1
    # A lamp that is off leaves a picture of daylight alone.
    off = luma(daylit(np.zeros_like(lamp), day, taken))
    assert off[LAMP].max() < luma(one)[LAMP].max() - 50


def test_the_window_lights_the_left_side() -> None:
    pytest.importorskip("mitsuba")
    from stackview.glow.skins import Matt
    from tests.glow.bodies import box, seen

    for bearing in (0.0, 90.0):
        # A cube seen over one of its edges shows two sides alike.
        camera = Camera(bearing + 45.0, 0.0, 400.0, (0.0, 0.0, 0.0), 20.0, (64, 48))
        white = box(Matt((0.8, 0.8, 0.8)), (-40, -40, -40), (40, 40, 40))
        picture = seen([white], [], camera, 32, room=Room(around=daylight(camera.bearing)))
        left, right = picture[18:30, 16:30].mean(), picture[18:30, 34:48].mean()
        assert left > 1.5 * right
        assert 60 < left < 900


def test_the_window_stands_where_the_array_has_it() -> None:
    pytest.importorskip("mitsuba")
    from tests.glow.bodies import seen

    light = daylight(0.0) @ LUMINANCE
    # Looking out at the window from the lamp: the array's own pixel is what the camera sees there.
    row, column = 90 - 25 - 1, 180 + 58 + 8
    bearing, elevation = 180.0 - (column + 0.5), 90.0 - (row + 0.5)
    # An eye at the opposite bearing, below, looks towards it.
    camera = Camera(bearing + 180.0, -elevation, 400.0, (0.0, 0.0, 0.0), 0.5, (4, 4))
    assert seen([], [], camera, 4, room=Room(around=daylight(0.0))).mean() == pytest.approx(
        light[row, column], rel=0.02
    )
