"""Numbers that share a colour, the words for them, and inks that are read on every one of them."""

import numpy as np
import pytest

from stackview.drawings.chart_style import blank
from stackview.drawings.room_colours import in_tones, paint_zones, tone_numbers, tones
from stackview.sight.room import Zone, Zones


def zones(*pairs: tuple[Zone, int]) -> Zones:
    return Zones(
        np.array([zone for zone, _ in pairs], np.int8), np.array([count for _, count in pairs], np.int32)
    )


@pytest.mark.parametrize("most", [1, 2, 10, 11, 160, 5000])
def test_every_number_up_to_the_most_has_one_tone(most: int) -> None:
    every = zones(*((Zone.BARE, count) for count in range(1, most + 1)))
    known = tones(every, "LED")
    numbers = tone_numbers(every, known)
    for count, number in zip(range(1, most + 1), numbers.tolist(), strict=True):
        assert known[number].least <= count <= known[number].most
    assert len({tone.colour for tone in known}) == len(known)


def test_a_few_are_told_one_by_one_and_many_by_steps() -> None:
    few = tones(zones((Zone.BARE, 6)), "LED")
    assert [tone.number for tone in few[:-1]] == ["6", "5", "4", "3", "2", "1"]
    many = tones(zones((Zone.VEILED, 159)), "LED")
    assert [tone.number for tone in many[:-1]] == [
        "101–159",
        "51–100",
        "21–50",
        "11–20",
        "6–10",
        "3–5",
        "2",
        "1",
    ]


def test_words_say_what_an_eye_there_sees() -> None:
    known = tones(zones((Zone.BARE, 2), (Zone.GLAZED, 1), (Zone.PART_BARE, 0), (Zone.VEILED, 1)), "LED")
    assert [tone.words for tone in known] == [
        "2 LEDs",
        "1 LED",
        "edge of an LED",
        "1 LED through clear acrylic",
        "1 LED through acrylic",
        "no LED in sight",
    ]
    assert tones(zones((Zone.BARE, 1)), "light point")[-1].words == "no light point in sight"


def test_inks_stand_out_from_every_tone_by_three_to_one() -> None:
    def light(colour: str) -> float:
        part = np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)]) / 255.0
        linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
        return float(linear @ [0.2126, 0.7152, 0.0722])

    every = zones(*((zone, 9) for zone in (Zone.BARE, Zone.GLAZED, Zone.VEILED)), (Zone.PART_BARE, 0))
    for tone in tones(every, "LED"):
        high, low = sorted((light(tone.ink), light(tone.colour)), reverse=True)
        assert (high + 0.05) / (low + 0.05) >= 3.0, tone


def test_each_place_is_painted_in_its_tone() -> None:
    both = zones((Zone.BARE, 1), (Zone.NOTHING, 0))
    known = tones(both, "LED")
    drawn = in_tones(tone_numbers(both, known), known)
    assert drawn.shape == (2, 3)
    assert not np.array_equal(drawn[0], drawn[1])


def test_zones_are_painted_upright_and_borders_between_two_are_mixed() -> None:
    both = zones((Zone.BARE, 1), (Zone.NOTHING, 0))
    known = tones(both, "LED")
    bare, none = tone_numbers(both, known).tolist()
    sheet = blank((900, 600))
    # Three columns, two pixels high: below all is bare; above one is half of each, and the others show nothing.
    numbers = np.array([[bare, bare, bare, none], [bare, bare, none, none], [bare, bare, none, none]])
    below, above = paint_zones(sheet, numbers, known, 40, 30).tolist()
    assert (below, above) == ([bare] * 3, [bare, none, none])
    ((painted, left, low),) = sheet.images
    assert (left, low, painted.shape) == (40, 30, (2, 3, 3))
    light, dark = in_tones(np.array([bare, none]), known).astype(float)
    assert painted[1, 0].tolist() == light.tolist()
    assert painted[0, 2].tolist() == dark.tolist()
    assert painted[0, 0] == pytest.approx((light + dark) / 2.0, abs=0.5)
