import pytest

from stackview.stills.mix import DAY, STUDIO, evening_mix


def test_from_day_to_evening_the_sky_fades_and_the_lamp_grows():
    assert DAY.sky > STUDIO.sky > evening_mix(350.0).sky
    assert DAY.lamp < STUDIO.lamp < evening_mix(350.0).lamp
    for mix in (DAY, STUDIO, evening_mix(350.0)):
        assert min(mix.backdrop_low) > min(mix.backdrop_high) > 0


def test_a_lamp_of_more_light_is_brighter_by_evening_and_the_room_is_not():
    weak, strong = evening_mix(200.0), evening_mix(400.0)
    assert strong.sky == weak.sky
    # Stevens' cube root: twice the luminance looks 2^(1/3) as bright.
    assert strong.lamp / weak.lamp == pytest.approx(2.0 ** (1 / 3), rel=1e-12)
