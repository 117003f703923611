"""What could even spots out: the keys that are typed, by hand, and that every file takes them."""

import pytest

from stackview.change.eveners import Evener, Means, of_sheets, of_the_rest
from stackview.errors import LampError
from stackview.study import Study
from tests.change.spotty import STRIP, small, strip


def typed(eveners: list[Evener], means: Means) -> list[dict[str, object]]:
    return [
        {number.path: number.typed for number in numbers}
        for evener in eveners
        if evener.means is means
        for numbers in evener.amounts
    ]


def all_of(study: Study) -> list[Evener]:
    return [*of_sheets(study, ["plate"]), *of_the_rest(study, ["plate"])]


def test_clear_plates_are_sanded_or_opal() -> None:
    found = list(of_sheets(small("clear"), ["plate"]))
    assert [evener.means for evener in found] == [Means.FINISH, Means.SHEET]
    assert typed(found, Means.FINISH) == [{"materials.stock.finish": "sanded"}]
    assert typed(found, Means.SHEET) == [{"materials.stock.acrylic": "opal"}]


def test_a_finish_is_changed_where_it_is_written() -> None:
    study = small("clear", **{'material = "stock"': 'material = "stock"\nfinish = { top = "sanded" }'})
    assert typed(list(of_sheets(study, ["plate"])), Means.FINISH) == [{"layer.plate.finish": "sanded"}]


def test_sanded_plates_become_opal_and_lose_their_roughness() -> None:
    found = list(of_sheets(strip(), ["plate"]))
    assert typed(found, Means.FINISH) == []
    assert typed(found, Means.SHEET) == [
        {"materials.plate.acrylic": "opal", "materials.plate.roughness": None}
    ]
    (number,) = (each for each in found[0].amounts[0] if each.typed is None)
    assert number.brief == "materials.plate.roughness 0.2 left out"


def test_opal_plates_take_a_denser_sheet_unless_theirs_is_dense() -> None:
    assert typed(list(of_sheets(small("opal"), ["plate"])), Means.SHEET) == [
        {"materials.stock.transmission": 0.35}
    ]
    dense = small("opal", **{"measured = 3.8 }": "measured = 3.8, transmission = 0.4 }"})
    assert list(of_sheets(dense, ["plate"])) == []


def test_a_finer_pitch_keeps_the_power() -> None:
    # 5 mm for 10 mm, and a helix wound twice as close: twice the points at half the current
    assert typed(all_of(strip()), Means.PITCH) == [
        {
            "light.helix.continuous": True,
            "light.helix.spacing": None,
            "light.helix.face": None,
            "light.helix.milliamps": 10,
        },
        {"light.helix.helix.pitch": 10.0, "light.helix.helix.length": 200.0, "light.helix.milliamps": 10},
    ]
    assert typed(all_of(small()), Means.PITCH) == [
        {
            "light.panel.panel.columns": 6,
            "light.panel.panel.spacing": 15.0,
            "light.panel.milliamps": 10,
            "light.panel.lumens": 10,
        }
    ]


def test_strips_go_by_light_points_a_metre_up_to_the_densest() -> None:
    rows = 'spacing = "10 mm"\n'
    for per_metre, denser in ((60, 120), (120, 240), (144, None)):
        study = strip(
            STRIP.replace(rows, f"leds_per_metre = {per_metre}\n").replace('cut_every = "10 mm"\n', "")
        )
        found = [each for each in typed(all_of(study), Means.PITCH) if "light.helix.leds_per_metre" in each]
        assert [each["light.helix.leds_per_metre"] for each in found] == [None, denser][: 2 if denser else 1]


def test_a_strip_without_single_leds_is_left_as_it_is() -> None:
    study = strip(STRIP.replace('spacing = "10 mm"', "continuous = true"))
    assert not any("continuous" in path for each in typed(all_of(study), Means.PITCH) for path in each)


def test_distance_and_overhang_go_by_the_greatest_amount_first() -> None:
    found = all_of(strip())
    openings, core = typed(found, Means.DISTANCE)[:3], typed(found, Means.DISTANCE)[3:]
    assert openings == [{"layer.plate.opening.circle": 50.0 + 2 * by} for by in (8, 4, 2)]
    assert core == [{"core.outline.circle": 40.0 - 2 * by} for by in (8, 4, 2)]
    assert {"layer.ring.wall": 22.0} in typed(found, Means.OVERHANG)
    assert {"layer.plate.outline.circle": 88.0} in typed(found, Means.OVERHANG)
    # what holds the plate over a panel grows by twice that
    assert typed(all_of(small()), Means.DISTANCE) == [
        {"layer.ring.thickness": pytest.approx(14.8 + by)} for by in (16, 8, 4)
    ]


@pytest.mark.parametrize("study", [small("opal"), small("clear"), strip()], ids=["opal", "clear", "strip"])
def test_some_amount_of_each_is_accepted_by_the_file(study: Study) -> None:
    assert study.file is not None
    for evener in all_of(study):
        accepted = 0
        for numbers in evener.amounts:
            try:
                study.file.changed({number.path: number.typed for number in numbers}).lamp()
            except LampError:
                continue
            accepted += 1
        assert accepted, evener


def test_inches_are_typed_as_the_file_has_them() -> None:
    text = STRIP.replace('unit = "mm"', 'unit = "in"').replace('circle = "50 mm"', 'circle = "2"')
    (first, *_) = typed(all_of(strip(text)), Means.DISTANCE)
    assert first == {"layer.plate.opening.circle": "2-41/64 in"}  # 2 in + 16 mm = 2.630 in, rounded up
