import pytest

from stackview.checks.cable import CHECK, cable, reaches_inside
from stackview.description.lamp import Bore, Layer, Opening
from stackview.findings import Level
from tests.checks.written import alarms, changed, subject
from tests.stack.layers import ASH, circle, pocket


def test_a_sound_lamp_has_nothing_to_say() -> None:
    assert cable(subject()) == ()


def test_a_lamp_without_light_needs_no_cable() -> None:
    text = 'name = "x"\nmaterials.w = { plywood = "birch", sold = 18 }\n'
    text += 'layer = [{ name = "a", material = "w", outline = { circle = 100 } }]\n'
    assert cable(subject(text)) == ()


def test_cable_thicker_than_its_bore() -> None:
    (fault,) = alarms(CHECK, changed(('length = "1 m"', 'length = "1 m"\ndiameter = 6')))
    assert (fault.level, fault.value, fault.limit) == (Level.FAULT, 6.0, 5.0)
    assert "6.4 mm" in fault.advice


def test_plug_wider_than_the_bore() -> None:
    (caution,) = alarms(CHECK, changed(('length = "1 m"', 'length = "1 m"\nplug = 12')))
    assert caution.level == Level.CAUTION
    assert "bare ends" in caution.advice


def test_a_bore_into_solid_wood_lets_no_wire_up() -> None:
    (caution,) = alarms(CHECK, changed(("opening = { circle = 8 }\n", "")))
    assert "solid material" in caution.what


@pytest.mark.parametrize(
    ("layer", "reaches"),
    [
        (Layer("a", ASH, 10.0, circle(100.0)), False),
        (Layer("a", ASH, 10.0, circle(100.0), openings=(Opening(circle(8.0)),)), True),
        (Layer("a", ASH, 10.0, circle(100.0), recesses=(pocket(circle(40.0), 2.0),)), False),
        (Layer("a", ASH, 10.0, circle(100.0), recesses=(pocket(circle(40.0), 4.0),)), True),
        (Layer("a", ASH, 10.0, circle(100.0), recesses=(pocket(circle(40.0), 4.0, face="underside"),)), True),
    ],
)
def test_what_a_bore_meets(layer: Layer, reaches: bool) -> None:
    # Ø6 at mid-height of 10: from 2 to 8
    assert reaches_inside(layer, Bore(6.0, 5.0, 180.0)) is reaches


def test_a_short_bore_stops_before_the_opening() -> None:
    layer = Layer("a", ASH, 10.0, circle(100.0), openings=(Opening(circle(8.0)),))
    assert not reaches_inside(layer, Bore(6.0, 5.0, 90.0, length=40.0))
    assert reaches_inside(layer, Bore(6.0, 5.0, 90.0, length=47.0))


def test_strain_relief_is_asked_for_and_missed() -> None:
    (asked,) = cable(changed(("strain_relief = true\n", "")))
    assert asked.level == Level.NOTE
    (missed,) = cable(changed(("strain_relief = true", "strain_relief = false")))
    assert missed.level == Level.CAUTION


def test_can_a_dead_strip_be_replaced() -> None:
    (asked,) = cable(changed(('[glue]\nloose = ["cap"]\n', "")))
    assert (asked.check, asked.level) == ("repair", Level.NOTE)
    (glued,) = cable(changed(('loose = ["cap"]', "loose = []")))
    assert (glued.check, glued.level) == ("repair", Level.CAUTION)
    assert cable(changed(('loose = ["cap"]', 'loose = ["base"]'))) == ()


def test_a_lid_that_lifts_off_above_a_closed_plate_does_not_help() -> None:
    cap = '[[layer]]\nname = "cap"'
    shelf = '[[layer]]\nname = "shelf"\nmaterial = "ply"\noutline = { circle = 120 }\n'
    closed = (cap, shelf + cap)
    (found,) = cable(changed(closed))
    assert (found.check, found.level) == ("repair", Level.CAUTION)
    assert "does not come out" in found.what
