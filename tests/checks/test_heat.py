import pytest

from stackview.checks.airing import flow_of
from stackview.checks.heat import CHECK, heat
from stackview.findings import Bound, Finding, Level
from tests.checks.written import alarms, changed, subject


def test_a_sound_lamp_raises_no_alarm() -> None:
    assert alarms(CHECK, subject()) == []


def test_too_many_watts_are_too_hot_for_hand_wood_acrylic_glue_and_strip() -> None:
    found = alarms(CHECK, changed(("watts_per_metre = 4", "watts_per_metre = 60")))
    assert {one.limit for one in found} == {51.0, 60.0, 80.0, 90.0}
    assert all("could come to about" in one.what for one in found)
    levels = {one.limit: one.level for one in found}
    assert levels[90.0] == Level.FAULT
    assert levels[80.0] == levels[51.0] == Level.CAUTION
    assert all(one.bound == Bound.MOST for one in found)


DIODE = """
name = "Box"
[materials]
ply = { plywood = "birch", sold = 18, measured = 17.6 }
[[layer]]
name = "base"
material = "ply"
outline = { circle = 120 }
[[layer]]
name = "ring"
material = "ply"
outline = { circle = 120 }
wall = 14
[[layer]]
name = "cap"
material = "ply"
outline = { circle = 120 }
[[light]]
diode = { on = "base", facing = "up", height = 3 }
watts = 20
"""


def named(found: list[Finding], words: str) -> Finding:
    (one,) = [one for one in found if words in one.what]
    return one


def test_twenty_watts_in_shut_plywood_are_a_fault() -> None:
    found = alarms(CHECK, subject(DIODE))
    air, wood = named(found, "wood beside the air"), named(found, "wood that it lies on")
    assert air.level == wood.level == Level.FAULT
    assert air.value is not None
    assert air.value > 110.0
    board = named(found, "board under the diode")
    assert (board.level, board.limit) == (Level.CAUTION, 85.0)
    assert "mount it on metal" in board.advice
    assert (air.parts, wood.parts, board.parts) == (("base", "ring", "cap"), ("base",), ("base",))
    assert named(found, "its wood glue").limit == 60.0


def test_half_a_watt_there_is_cool() -> None:
    assert alarms(CHECK, subject(DIODE.replace("watts = 20", "watts = 0.5"))) == []


@pytest.mark.parametrize(
    ("limit", "words"),
    [
        ("diode_hottest", "board under the diode"),
        ("wood_hottest", "wood that it lies on"),
        ("touch_minute", "its skin"),
    ],
)
def test_at_the_limit_is_within_the_limit(limit: str, words: str) -> None:
    low = "[limits]\n" + "".join(f"{name} = 40\n" for name in {limit, "wood_hottest", "diode_hottest"})
    low = low.replace("touch_minute = 40", "touch_minute = 31")
    text = DIODE.replace("watts = 20", "watts = 3")
    value = named(alarms(CHECK, subject(text + low)), words).value
    assert value is not None
    at = alarms(CHECK, subject(f"{text}[limits]\n{limit} = {value!r}\n"))
    assert not any(words in one.what for one in at)
    under = alarms(CHECK, subject(f"{text}[limits]\n{limit} = {value - 1.0!r}\n"))
    assert named(under, words).level >= Level.CAUTION


def test_a_hot_skin_burns_metal_touchers_sooner_than_wood_touchers() -> None:
    # the same skin: on wood it is a caution, with a brass ring outside it is a fault
    text = DIODE.replace("watts = 20", "watts = 11")
    skin = named(alarms(CHECK, subject(text)), "its skin")
    assert skin.value is not None
    assert (skin.level, skin.limit) == (Level.CAUTION, 51.0)
    assert 55.0 < skin.value < 71.0
    brass = text.replace(
        '[[layer]]\nname = "cap"\nmaterial = "ply"',
        '[[layer]]\nname = "cap"\nthickness = 17.6\nmaterial = "brass"',
    ).replace("[materials]", '[materials]\nbrass = { metal = "brass" }')
    found = named(alarms(CHECK, subject(brass)), "its skin")
    assert (found.level, found.limit) == (Level.FAULT, 55.0)


def test_extruded_acrylic_stands_less_than_cast() -> None:
    hot = ("watts_per_metre = 4", "watts_per_metre = 22")
    cast = alarms(CHECK, changed(hot))
    extruded = alarms(CHECK, changed(hot, ('acrylic = "opal"', 'acrylic = "opal", sheet = "extruded"')))
    air = [one.value for one in extruded if "extruded acrylic is good for 70 °C" in one.what]
    assert len(air) == 1
    assert air[0] is not None
    assert 70.0 < air[0] < 80.0
    assert not any("acrylic is good for" in one.what for one in cast)


def test_open_gaps_cool_and_both_are_told() -> None:
    spacers = """[[layer]]
name = "spacers"
material = "ply"
outline = { circle = 8 }
around = { count = 3, circle = 105 }
thickness = 8
[[layer]]
name = "upper"
material = "ply"
outline = { circle = 120 }
wall = 14
"""
    text = DIODE.replace("watts = 20", "watts = 3")
    open_ = text.replace('[[layer]]\nname = "cap"', spacers + '[[layer]]\nname = "cap"')
    shut = open_.replace("circle = 8 }", "circle = 120 }").replace(
        "around = { count = 3, circle = 105 }", "wall = 14"
    )
    assert flow_of(subject(shut)) == 0.0
    assert flow_of(subject(open_)) > 0.0
    (note,) = [one for one in heat(subject(open_)) if one.level == Level.FACT]
    (closed,) = [one for one in heat(subject(shut)) if one.level == Level.FACT]
    assert "were its gaps shut" in note.what
    assert "gaps" not in closed.what
    assert "stays below" in closed.what
    assert note.value is not None
    assert closed.value is not None
    assert note.value < closed.value


def test_the_watts_that_are_advised_are_cool_enough() -> None:
    found = alarms(CHECK, changed(("watts_per_metre = 4", "watts_per_metre = 30")))
    (strip,) = [one for one in found if "strip" in one.what]
    (power,) = strip.ways
    assert (power.part, power.key, power.now) == ("light.helix", "power", 1.0)
    assert isinstance(power.guess, float)
    cool = f"watts_per_metre = {30.0 * power.guess:.3f}"
    assert not any("strip" in one.what for one in alarms(CHECK, changed(("watts_per_metre = 4", cool))))


def test_ones_own_data_sheet_and_room() -> None:
    warm_strip = ("watts_per_metre = 4", "watts_per_metre = 4\nhottest = 31")
    assert len(alarms(CHECK, changed(warm_strip))) == 1
    assert alarms(CHECK, changed(warm_strip, more="[limits]\nroom_hottest = 5\n")) == []


def test_without_watts_nothing_is_said() -> None:
    assert heat(changed(("watts_per_metre = 4\n", ""))) == ()
