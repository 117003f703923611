import re

import pytest

from stackview.checks.cable import CHECK, cable
from stackview.findings import Bound, Finding, Level
from stackview.study import Study
from tests.checks.written import alarms, changed, subject


def of_check(name: str, lamp: Study) -> list[Finding]:
    return [one for one in cable(lamp) if one.check == name]


def test_a_sound_lamp_has_nothing_to_say() -> None:
    # but that its tube has to be drilled, for the strip lies outside and the wires come up inside
    (drill,) = cable(subject())
    assert drill.level == Level.NOTE
    assert "inside the core" in drill.what


def test_a_lamp_without_light_needs_no_cable() -> None:
    text = 'name = "x"\nmaterials.w = { plywood = "birch", sold = 18 }\n'
    text += 'layer = [{ name = "a", material = "w", outline = { circle = 100 } }]\n'
    assert cable(subject(text)) == ()


def test_cable_thicker_than_its_bore() -> None:
    (fault,) = alarms(CHECK, changed(('length = "1 m"', 'length = "1 m"\ndiameter = 6')))
    assert (fault.level, fault.value, fault.limit) == (Level.FAULT, 6.0, 5.0)
    ((way),) = fault.ways
    assert (way.part, way.key, way.now, way.guess) == ("base", "bore.0.diameter", 5.0, 6.4)


def test_plug_wider_than_the_bore() -> None:
    (caution,) = alarms(CHECK, changed(('length = "1 m"', 'length = "1 m"\nplug = 12')))
    assert caution.level == Level.CAUTION
    assert "bare ends" in caution.advice


def test_a_bore_into_solid_wood_lets_no_wire_up() -> None:
    (fault,) = alarms(CHECK, changed(("opening = { circle = 8 }\n", "")))
    assert fault.level == Level.FAULT
    assert "solid material" in fault.what


@pytest.mark.parametrize(("diameter", "alarm"), [(4.5, False), (4.0, False), (3.999, True), (3.0, True)])
def test_a_bore_is_no_deeper_than_a_drill_is_long(diameter: float, alarm: bool) -> None:
    # from the side of Ø120 to the axis, 60 mm: 15 diameters of a drill of 4 mm, at the limit
    lamp = changed(
        ("bore = { diameter = 5 }", f"bore = {{ diameter = {diameter} }}"),
        ('length = "1 m"', 'length = "1 m"\ndiameter = 2'),
    )
    found = [one for one in alarms(CHECK, lamp) if "drill" in one.what]
    assert bool(found) is alarm
    for one in found:
        assert (one.level, one.value, one.limit, one.bound) == (
            Level.CAUTION, pytest.approx(60.0), pytest.approx(15.0 * diameter), Bound.MOST,
        )  # fmt: skip


def test_a_short_bore_needs_no_long_drill() -> None:
    short = ("bore = { diameter = 5 }", "bore = { diameter = 3, length = 45 }")
    reach = ("opening = { circle = 8 }", "opening = { circle = 40 }")
    lamp = changed(short, reach, ('length = "1 m"', 'length = "1 m"\ndiameter = 2'))
    assert not any("drill of" in one.what for one in alarms(CHECK, lamp))


def test_strain_relief_is_asked_for_and_missed() -> None:
    (asked,) = [
        one for one in of_check("cable", changed(("strain_relief = true\n", ""))) if "relief" in one.what
    ]
    assert asked.level == Level.NOTE
    (missed,) = alarms(CHECK, changed(("strain_relief = true", "strain_relief = false")))
    assert missed.level == Level.CAUTION


def test_a_missing_bore_is_asked_for_without_a_drill_that_none_has_tried() -> None:
    subject = changed(("bore = { diameter = 5 }", ""))
    (note,) = [one for one in cable(subject) if "no layer" in one.what]
    assert subject.lamp.cable is not None
    # the cable's own width is the one number that is said
    assert re.findall(r"[0-9.]+", note.advice.rstrip(".")) == [f"{subject.lamp.cable.diameter:g}"]
    assert "Add a bore to base" in note.advice


def test_a_layer_too_thin_for_the_bore_is_said_to_be() -> None:
    # A cable of 4 mm asks for 4.4: a base of 4 does not take it, by plane geometry.
    thin = changed(("bore = { diameter = 5 }", "thickness = 4"))
    (note,) = [one for one in cable(thin) if "no layer" in one.what]
    assert "too thin" in note.advice
    assert "bore = {" not in note.advice
