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
