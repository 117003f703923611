from stackview.stills.mix import DAY, EVENING, STUDIO


def test_from_day_to_evening_the_sky_fades_and_the_lamp_grows():
    assert DAY.sky > STUDIO.sky > EVENING.sky
    assert DAY.lamp < STUDIO.lamp < EVENING.lamp
    for mix in (DAY, STUDIO, EVENING):
        assert min(mix.backdrop_low) > min(mix.backdrop_high) > 0
