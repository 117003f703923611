"""What a rod's page says in words."""

from pathlib import Path

from stackview.description.units import Units
from stackview.drawings.rod_words import rod_title, rod_words
from stackview.shop.rod_sheet import rod_sheets
from stackview.study import Study
from tests.drawings.sheets import note_of
from tests.shop.box_lamp import box_study


def test_every_number_of_tube_and_strip() -> None:
    (core,) = rod_sheets(Study.read("demos/turning-lantern.toml"))
    cross, cut, stands, strip = rod_words(core, Units("mm"))
    assert cross == "cross-section: ⌀ 32 mm; wall 2 mm, inside ⌀ 28 mm"
    assert cut == "cut to 150 mm, both ends square"
    assert stands.startswith("stands on base")
    assert 'strip "helix", 275 mm (11 segments): wound climbing to the right, 60 mm a turn' in strip
    cells = {word: value for row in rod_title(core, note_of()) for word, value, _ in row}
    assert cells["length"] == "150 mm"
    assert cells["material"] == "tube: aluminium tube"


def test_pins_say_where_they_begin_and_end() -> None:
    pins, core = rod_sheets(Study.read("demos/honeycomb.toml"))
    said = rod_words(pins, Units("in"))
    assert said[2].startswith(
        "lower pins: from the underside of ring 2 to the top of ring 3, ending 1/4 in above"
    )
    assert said[2].endswith("3 on ⌀ 4.900 in at bearings 0°, 120°, 240°")
    assert (
        "6 of 3.937 in (4 segments): upright, from 0.197 in to 4.134 in" in rod_words(core, Units("in"))[-1]
    )


def test_feet_are_bought(tmp_path: Path) -> None:
    *_, feet = rod_sheets(box_study(tmp_path))
    assert rod_words(feet, Units("mm"))[1] == "3 mm high"
    cells = {word: value for row in rod_title(feet, note_of()) for word, value, _ in row}
    assert cells["files beside this one"] == "none: it is bought"
    assert cells["pieces for one lamp"] == "3"
