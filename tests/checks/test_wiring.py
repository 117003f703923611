"""From bore and cord to the light: lamps with a way, and without one."""

from pathlib import Path

import pytest

from stackview.checks.wiring import wire_diameter, wiring
from stackview.description.reading import read_text
from stackview.findings import Finding, Level
from stackview.study import Study
from tests.checks.written import changed, subject

DEMOS = Path(__file__).parents[2] / "demos"


def faults(of: Study) -> list[Finding]:
    return [one for one in wiring(of) if one.level == Level.FAULT]


def test_a_wire_by_its_copper_and_insulation() -> None:
    # 0.5 mm² are 0.80 mm across, and half a millimetre of insulation lies round them
    assert wire_diameter(0.5) == pytest.approx(1.798, abs=1e-3)


@pytest.mark.parametrize("demo", ["honeycomb", "moor-drum", "kelp", "turning-lantern"])
def test_the_demos_can_be_wired(demo: str) -> None:
    assert wiring(Study.read(DEMOS / f"{demo}.toml")) == ()


def test_a_solid_core_on_the_wires_opening_is_a_fault() -> None:
    text = (DEMOS / "honeycomb.toml").read_text("utf-8")
    moved = 'opening = { circle = "1/4", at = [0, 0.72] }'
    assert moved in text
    (fault,) = faults(subject(text.replace(moved, 'opening = { circle = "1/4" }')))
    assert fault.where == 'base, bore and light "runs"'
    assert "core" in fault.what
    # it stands in the recess, 0.110 in below the top of 0.742 in
    assert "0.632 in" in fault.what


def test_a_tube_on_it_has_to_be_drilled() -> None:
    (note,) = wiring(subject())
    assert note.level == Level.NOTE
    assert "Drill the core" in note.advice


def test_a_solid_core_of_the_same_size_is_a_fault() -> None:
    (fault,) = faults(
        changed(('tube = { metal = "aluminium" }', 'tube = { wood = "ash" }'), ("wall = 2\n", ""))
    )
    assert "no wire of 1.66 mm" in fault.what
    assert "under ring 1 and core" in fault.what


@pytest.mark.parametrize(
    ("deep", "alarm"),
    [
        (6.0, False),  # 0.3 above the bore's top at 8.8 + 2.5
        (6.5, False),  # 0.2 in the bore, which leaves 4.8 for a cable of 4
        (7.3, False),  # 4 are left: at the limit
        (7.4, True),
        (12.0, True),
    ],
)
def test_a_core_that_grazes_the_bore_leaves_room_for_the_cable(deep: float, alarm: bool) -> None:
    socket = (
        "bore = { diameter = 5 }",
        f"bore = {{ diameter = 5 }}\nrecess = {{ depth = {deep}, outline = {{ circle = 41 }} }}",
    )
    lamp = changed(socket, ("height = 33", f"height = {33 + deep}"))
    found = [one for one in faults(lamp) if "across it" in one.what]
    assert bool(found) is alarm


@pytest.mark.parametrize(("hole", "alarm"), [(8, False), (4, False), (3.9, True)])
def test_the_opening_takes_the_whole_cable(hole: float, alarm: bool) -> None:
    found = faults(changed(("opening = { circle = 8 }", f"opening = {{ circle = {hole} }}")))
    assert bool(found) is alarm
    assert all("grazes" in one.what for one in found)


def test_a_pin_across_the_bore_is_named() -> None:
    pin = """[[post]]
name = "pin"
material = "tube"
outline = { circle = 4 }
from = "base"
to = "base"
around = { count = 1, circle = 100, first = 180 }
"""
    holed = (
        "opening = { circle = 8 }",
        "opening = [{ circle = 8 }, { circle = 4.2, around = { count = 1, circle = 100, first = 180 } }]",
    )
    (fault,) = faults(changed(holed, more=pin))
    assert fault.where == "base, bore"
    assert fault.what.startswith("pin stands across it")
    beside = (holed[0], holed[1].replace("180", "90"))
    assert faults(changed(beside, more=pin.replace("180", "90"))) == []


def test_a_lamp_with_neither_bore_nor_cord_says_nothing() -> None:
    assert wiring(changed(("bore = { diameter = 5 }\n", ""))) == ()


def test_a_diode_under_a_closed_plate_below_it_is_not_reached() -> None:
    text = (DEMOS / "moor-drum.toml").read_text("utf-8")
    assert wiring(read(text)) == ()
    high = text.replace(
        'diode = { on = "base", facing = "up", height = 3 }',
        'diode = { on = "plate 1", facing = "up", height = 3 }',
    )
    (fault,) = faults(read(high))
    assert "plate 1" in fault.what


def read(text: str) -> Study:
    return Study(read_text(text, "lamp.toml", DEMOS), bearings=24)


@pytest.mark.parametrize(
    ("hole", "alarm"),
    [
        ("{ diameter = 5, height = 4 }", False),  # beside the strip's lower end
        ("{ diameter = 1.6, height = 4 }", True),  # the wire is 1.66 thick
        ("{ diameter = 5, height = 16 }", True),  # behind the strip
    ],
)
def test_a_hole_in_the_tube_leads_to_the_strip(hole: str, alarm: bool) -> None:
    assert bool(wiring(changed(("wall = 2\n", f"wall = 2\nhole = {hole}\n")))) is alarm
