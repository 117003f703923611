"""Lamps with no flaw: every check has notes to give and no alarm to raise."""

import pytest

from stackview.checks.all_checks import ALL_CHECKS, names_of
from stackview.checks.subject import run_checks
from stackview.description.starter import starter_text
from stackview.findings import Level
from tests.checks.written import SOUND, changed, exchanged, subject

TALL = exchanged(
    SOUND,
    ('name = "Sound"', 'name = "Tall"'),
    ("sold = 9, measured = 8.8", "sold = 18, measured = 17.6"),
    ("circle = 120", "circle = 150"),
    ("wall = 14", "wall = 16"),
    ("depth = 1.5", "depth = 2"),
    ("circle = 104", "circle = 132"),
    ("circle = 46", "circle = 50"),
    ("diameter = 5", "diameter = 6"),
    ("repeat = 3", "repeat = 16"),
    ("height = 33", "height = 300"),
    ("pitch = 12", "pitch = 30"),
    ('length = "1 m"', 'length = "1.5 m"'),
    ("0.34 mm2", "0.5 mm2"),
)
TINY = """
name = "Tiny"
cutter = 2
[materials]
ply = { plywood = "birch", sold = 6, measured = 6.0 }
thick = { plywood = "birch", sold = 9, measured = 9.0 }
opal = { acrylic = "opal", sold = 3, measured = 3.0 }
[[layer]]
name = "base"
material = "thick"
outline = { circle = 60 }
opening = { circle = 6, at = [0, 12] }
bore = { diameter = 3, bearing = 180, height = 4.5 }
[[layer]]
name = "ring"
material = "ply"
outline = { circle = 60 }
wall = 8
recess = { depth = 1.5 }
[[layer]]
name = "lid"
material = "opal"
outline = { circle = 50 }
[[light]]
diode = { on = "base", height = 2 }
watts = 0.06
milliamps = 20
port = "usb 2.0"
[glue]
loose = ["lid"]
[cable]
length = "1 m"
diameter = 2.5
wire = "0.14 mm2"
strain_relief = true
"""
PENDANT = exchanged(
    SOUND,
    ('name = "Sound"', 'name = "Pendant"'),
    ("[materials]", "[pendant]\nunderside = 1600\n[materials]"),
    ('[cable]\nlength = "1 m"\nwire = "0.34 mm2"', '[cord]\ndiameter = 6\nlength = "1 m"\nwire = "0.75 mm2"'),
    ("circle = 120", "circle = 140"),
    ("circle = 104", "circle = 124"),
    ("circle = 46", "circle = 48"),
    ('name = "base"\nmaterial = "thick"', 'name = "floor"\nmaterial = "opal"'),
    ("bore = { diameter = 5 }\nopening = { circle = 8 }\n", ""),
    ("repeat = 3", "repeat = 4"),
    ('name = "cap"', 'name = "lid"\nopening = { circle = 7 }'),
    ("height = 33", "height = 40"),
    ('stands_on = "base"', 'hangs_from = "lid"'),
    ("pitch = 12", "pitch = 14"),
    (
        '[glue]\nloose = ["cap"]',
        '[[screw]]\nname = "lid screws"\nthrough = "lid"\ninto = "ring 4"\ncount = 3\ndiameter = 3\nlength = 14\n'
        '[glue]\nloose = ["lid"]',
    ),
)
INCHES = """
name = "Inches"
unit = "in"
cutter = "1/8 in"
clearance = 0.01
[materials]
ply = { plywood = "birch", sold = "3/4 in", measured = 0.71 }
thin = { plywood = "birch", sold = "3/8 in", measured = 0.36 }
opal = { acrylic = "opal", sold = "1/8 in", measured = 0.118 }
tube = { metal = "aluminium" }
[[groups.tier]]
name = "ring"
material = "thin"
outline = { sides = 8, across_flats = 6, corner_radius = 0.25 }
wall = 0.6
recess = { depth = 0.06 }
[[groups.tier]]
name = "plate"
material = "opal"
outline = { sides = 8, across_flats = 5.4, corner_radius = 0.25 }
opening = { circle = 2.1 }
[[layer]]
name = "base"
material = "ply"
outline = { sides = 8, across_flats = 6, corner_radius = 0.25 }
opening = { circle = 0.35 }
bore = { diameter = 0.25, height = 0.35 }
[[layer]]
group = "tier"
repeat = 3
[[layer]]
name = "cap"
material = "thin"
outline = { sides = 8, across_flats = 6, corner_radius = 0.25 }
[core]
material = "tube"
outline = { circle = 1.75 }
wall = 0.08
height = 1.1
stands_on = "base"
[[light]]
helix = { pitch = 0.5 }
width = 0.32
watts_per_metre = 4
port = "usb charger"
[glue]
loose = ["cap"]
[cable]
length = "4 ft"
wire = "AWG 20"
strain_relief = true
"""

GOOD = {
    "sound": SOUND,
    "starter": starter_text(),
    "tall": TALL,
    "tiny": TINY,
    "pendant": PENDANT,
    "inches": INCHES,
}


@pytest.mark.parametrize("text", GOOD.values(), ids=GOOD)
def test_a_good_lamp_has_fewer_than_ten_notes(text: str) -> None:
    found = run_checks(subject(text), ALL_CHECKS)
    notes = [one for one in found if one.level == Level.NOTE]
    assert len(notes) < 10
    assert notes[-1].where == "working safely"
    assert any(one.check == "heights" for one in found if one.level == Level.FACT)


@pytest.mark.parametrize("text", GOOD.values(), ids=GOOD)
def test_what_findings_are_called_is_in_the_table(text: str) -> None:
    assert {one.check for one in run_checks(subject(text), ALL_CHECKS)} <= set(names_of())


@pytest.mark.parametrize("text", GOOD.values(), ids=GOOD)
def test_no_alarm(text: str) -> None:
    found = [one for one in run_checks(subject(text), ALL_CHECKS) if one.level >= Level.CAUTION]
    # what shows to an eye depends on where one looks from, not on how the lamp is made
    assert [one for one in found if one.check != "bare light"] == []


ODD = {
    "one layer": 'name = "x"\nmaterials.a = { metal = "brass" }\nlayer = [{ name = "a", material = "a", thickness = 2, '
    "outline = { circle = 50 } }]\n",
    "acrylic alone": 'name = "x"\nmaterials.a = { acrylic = "opal", sold = 3 }\n'
    'layer = [{ name = "a", material = "a", outline = { sides = 5, across_flats = 50 } }]\n'
    "light = [{ panel = { columns = 2, rows = 2 }, watts = 0.2, milliamps = 20 }]\n",
    "no cord": 'name = "x"\npendant = { underside = 1500 }\nmaterials.a = { wood = "ash", sold = 12 }\n'
    'layer = [{ name = "a", material = "a", outline = { circle = 150 } }]\n'
    'light = [{ diode = { facing = "down" }, watts = 3 }]\n',
    "own wood": 'name = "x"\nmaterials.a = { wood = "holly", sold = 12, density = 600, colour = "#eeeeee" }\n'
    'layer = [{ name = "a", material = "a", outline = { circle = 150 } }, { name = "b", material = "a", '
    "outline = { circle = 150 } }]\n",
}


@pytest.mark.parametrize("text", ODD.values(), ids=ODD)
def test_odd_lamps_can_be_checked(text: str) -> None:
    for check in ALL_CHECKS:
        for finding in check.run(subject(text)):
            assert finding.where
            assert finding.what
            assert not finding.what.endswith(".")


def test_a_lamp_twice_as_large_moves_twice_as_far() -> None:
    solid = ('ply = { plywood = "birch"', 'ply = { wood = "red oak"')
    small, large = changed(solid), subject(_doubled(SOUND.replace(*solid)))
    by = [
        max(
            one.value or 0.0
            for one in run_checks(lamp, ALL_CHECKS)
            if one.check == "movement" and one.level == Level.CAUTION
        )
        for lamp in (small, large)
    ]
    assert by[1] == pytest.approx(2.0 * by[0], rel=0.02)


def _doubled(text: str) -> str:
    """Outlines, walls and recesses at twice the size; the same sheets."""
    return exchanged(
        text, ("circle = 120", "circle = 240"), ("wall = 14", "wall = 28"), ("circle = 104", "circle = 208")
    )


def test_a_check_does_not_change_its_subject() -> None:
    lamp = subject()
    before = [part.solid.vertices.copy() for part in lamp.stack.placed]
    first = run_checks(lamp, ALL_CHECKS)
    assert run_checks(lamp, ALL_CHECKS) == first
    for was, part in zip(before, lamp.stack.placed, strict=True):
        assert (was == part.solid.vertices).all()
