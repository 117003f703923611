"""Mends as checks propose them: tried, rounded to the safe side, gone on until nothing new comes."""

import pytest

from stackview.change.mend import Mended
from stackview.change.mends import Mending
from stackview.change.trial import new_findings
from stackview.description.lamp_file import LampFile
from stackview.findings import Finding, Level
from stackview.study import Study
from tests.change.flawed import FLAWED, SLOW
from tests.change.test_mends import holds

TIGHT = """
name = "Tight"
unit = "mm"
cutter = 3
clearance = 0.1
[materials.stock]
plywood = "birch"
sold = 12
[materials.sheet]
acrylic = "opal"
sold = 3
[[layer]]
name = "ring"
material = "stock"
outline = { rectangle = [120, 120] }
wall = 20
recess = { depth = 1.5 }
[[layer]]
name = "plate"
material = "sheet"
outline = { rectangle = [90, 90] }
"""
WIRED = """
name = "Wired"
unit = "mm"
[materials.stock]
plywood = "birch"
sold = 18
[[layer]]
name = "base"
material = "stock"
outline = { circle = 130 }
opening = { circle = 20 }
bore = { diameter = 5 }
[[light]]
diode = { height = 3 }
watts = 5
[cable]
length = "0.5 m"
diameter = 6
wire = "4 mm2"
strain_relief = true
[supply]
adapter = 2
fuse = 40
"""


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=[pytest.mark.slow] if name in SLOW else []) for name in FLAWED]
)
def test_a_flaw_is_mended_as_worked_out_by_hand(name: str) -> None:
    text, check, wanted = FLAWED[name]
    source, told = found_in(text, check)
    (finding, found) = told[0]
    assert [mend.changes for mend in found.mends] == wanted
    holds(source, finding, found)


def found_in(text: str, check: str) -> tuple[Study, list[tuple[Finding, Mended]]]:
    source = Study(LampFile.from_text(text))
    mending = Mending(source)
    some = [
        finding for finding in source.findings if finding.check == check and finding.level >= Level.CAUTION
    ]
    return source, [(finding, found) for finding in some if (found := mending.of(finding)) is not None]


def test_a_seat_is_mended_past_the_play_that_would_need_force() -> None:
    # A sharp corner needs 1.5·(1 − 1/√2) = 0.439 mm; 0.45 seats it with 0.011 · √2 = 0.015 mm of play at the corner.
    # A play of 0.05 mm there is c·√2 − 1.5·(√2 − 1) ≥ 0.05, so c ≥ 0.475 mm: 0.5 by steps of 0.05.
    source, ((_, found),) = found_in(TIGHT, "seat")
    changes = [mend.changes for mend in found.mends]
    assert {"layer.ring.recess.clearance": 0.5} in changes
    for mend in found.mends:
        assert mend.new == new_findings(source.findings, source.changed(mend.changes).findings) == ()
        assert not [
            each for each in source.changed(mend.changes).findings if each.check == "seat" and each.level > 2
        ]


def test_what_clears_it_and_brings_a_fault_is_named_but_is_no_mend() -> None:
    # On a base of 12 mm, the plate seats 1.5 mm lower, from 22.5 mm on, and the diode at 23 mm sits in it.
    base = '[[layer]]\nname = "base"\nmaterial = "stock"\noutline = { rectangle = [120, 120] }\n'
    lit = (
        TIGHT.replace("[[layer]]", base + "[[layer]]", 1) + "[[light]]\ndiode = { height = 11 }\nwatts = 1\n"
    )
    _, ((_, found),) = found_in(lit, "seat")
    assert found.mends == ()
    assert found.note.startswith(
        "What clears it is no mend alone: layer.ring.recess.clearance 0.1 mm to 0.5 mm; it brings a fault: plate: "
    )
    assert "inside it" in found.note


def test_a_bore_is_drilled_for_its_cable() -> None:
    source, ((_, found),) = found_in(WIRED, "cable")
    (mend,) = found.mends
    assert mend.changes == {"layer.base.bore.0.diameter": 6.4}
    assert all(
        each.check != "cable" or each.level < Level.CAUTION for each in source.changed(mend.changes).findings
    )


def test_a_fuse_is_one_that_is_made_and_that_the_wires_stand() -> None:
    # 4 mm² stands 32 A, and the lamp draws 1 A: of the series up to 10 A the largest
    _, ((_, found),) = found_in(WIRED, "supply")
    (mend,) = found.mends
    assert mend.changes == {"supply.fuse": 10.0}
    assert mend.numbers[0].text == "supply.fuse 40 to 10"


def test_a_bore_between_two_thin_floors_is_not_moved_from_one_into_the_other() -> None:
    # 9 of a layer less a bore of 6 leave 1.5 above and below, for 2
    source = Study(
        LampFile.from_text("""
name = "Bored"
materials.ply = { plywood = "birch", sold = 9, measured = 9 }
layer = [{ name = "base", material = "ply", outline = { circle = 120 }, bore = { diameter = 6 } }]
""")
    )
    floors = [each for each in source.findings if "of floor is left" in each.what]
    assert len(floors) == 2
    for finding in floors:
        found = Mending(source).of(finding)
        assert found is not None
        assert found.mends
        for mend in found.mends:
            assert "layer.base.bore.0.height" not in mend.changes, mend.brief
            left = source.changed(mend.changes).findings
            assert not [each for each in left if each.where == "base" and "of floor is left" in each.what]


TWO_STRIPS = """
name = "Two strips"
materials.ply = { plywood = "birch", sold = 9, measured = 9 }
materials.alu = { metal = "aluminium" }
layer = [
    { name = "base", material = "ply", outline = { circle = 120 } },
    { name = "ring", material = "ply", outline = { circle = 120 }, wall = 14, thickness = 60 },
    { name = "cap", material = "ply", outline = { circle = 120 } },
]
core = { material = "alu", outline = { sides = 6, across_flats = 30 } }
[[light]]
name = "one"
runs = { count = 2, length = 50 }
watts_per_metre = 60
[[light]]
name = "two"
runs = { count = 2, length = 50, first = 60 }
milliamps = 120
"""


def test_of_two_lights_that_are_too_hot_each_is_cool_with_what_is_said_to_clear_it() -> None:
    # the hotter one's finding says the same words of another light: it is not taken for that one's
    source = Study(LampFile.from_text(TWO_STRIPS), bearings=24)
    strips = [each for each in source.findings if each.check == "heat" and "strip" in each.what]
    assert [each.where for each in strips] == ['light "one"', 'light "two"']
    for finding in strips:
        found = Mending(source).of(finding)
        assert found is not None
        assert found.mends
        for mend in found.mends:
            # all lights are dimmed alike, also one of which only its current is given
            assert {"light.one.watts_per_metre", "light.two.milliamps"} <= mend.changes.keys()
            left = source.changed(mend.changes).findings
            assert not [each for each in left if (each.check, each.where) == ("heat", finding.where)]
