import pytest

from stackview.light.evening import ROOM_LUMINANCE, beside_the_room


def test_brightness_goes_with_the_cube_root_of_luminance():
    assert beside_the_room(ROOM_LUMINANCE) == 1.0
    assert beside_the_room(8.0 * ROOM_LUMINANCE) == pytest.approx(2.0, rel=1e-12)
    assert beside_the_room(0.0) == 0.0
    # Twice the light: a quarter brighter, as 2^(1/3) says.
    assert beside_the_room(600.0) / beside_the_room(300.0) == pytest.approx(1.259921, rel=1e-6)
