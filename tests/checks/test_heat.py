from math import pi

import pytest

from stackview.checks.heat import CHECK, heat, shell_of, source_of
from stackview.findings import Level
from tests.checks.written import alarms, changed, subject


def test_a_sound_lamp_raises_no_alarm() -> None:
    assert alarms(CHECK, subject()) == []


def test_the_shell_by_hand() -> None:
    shell = shell_of(subject())
    # base, three tiers of 8.8 + 3.8 − 1.5 and the cap, all Ø120
    height = 17.6 + 3 * (8.8 + 3.8 - 1.5) + 8.8
    assert shell.height == pytest.approx(height / 1000.0)
    assert shell.top == pytest.approx(pi * 0.06**2)
    assert shell.bottom == 0.0
    assert shell.span == pytest.approx(0.03)
    # between the rings only the plates' edges, Ø104, face out
    low, high = pi * 0.104 * shell.height, pi * 0.120 * shell.height
    assert low < shell.side < high
    # three walls 14 thick, 8.8 tall, mean Ø106, and the cap 8.8 thick
    walls = 3 * 0.13 * 8.8 * pi * 106.0 / 14.0 / 1000.0
    assert shell.through == pytest.approx(walls + 0.13 * pi * 0.06**2 / 0.0088, rel=1e-6)


def test_a_metal_tube_gives_off_heat_all_over_and_inside() -> None:
    lamp = subject()
    found = source_of(lamp, lamp.light.lit[0])
    whole = pi * 0.040 * 0.033
    assert found.in_sight == pytest.approx(whole)
    assert found.in_air == pytest.approx(2.0 * whole)
    wooden = changed(('material = "tube"', 'material = "ply"'), ("wall = 2\n", ""))
    (lit,) = wooden.light.lit
    assert source_of(wooden, lit).in_air <= whole * (1 + 1e-9)


def test_too_many_watts_are_too_hot_for_the_strip_and_the_acrylic() -> None:
    found = alarms(CHECK, changed(("watts_per_metre = 4", "watts_per_metre = 60")))
    assert {one.limit for one in found} == {60.0, 80.0}
    assert all("could come to about" in one.what for one in found)
    assert all(one.level == Level.CAUTION for one in found)


def test_the_watts_that_are_advised_are_cool_enough() -> None:
    found = alarms(CHECK, changed(("watts_per_metre = 4", "watts_per_metre = 30")))
    (strip,) = [one for one in found if "strip" in one.what]
    watts = float(strip.advice.split("about ")[1].split(" W")[0])
    length = subject().light.lit[0].length / 1000.0
    cool = f"watts_per_metre = {watts / length:.3f}"
    assert not any("strip" in one.what for one in alarms(CHECK, changed(("watts_per_metre = 4", cool))))


def test_ones_own_data_sheet_and_room() -> None:
    warm_strip = ("watts_per_metre = 4", "watts_per_metre = 4\nhottest = 31")
    assert len(alarms(CHECK, changed(warm_strip))) == 1
    assert alarms(CHECK, changed(warm_strip, more="[limits]\nroom_hottest = 5\n")) == []


def test_without_watts_nothing_is_said() -> None:
    assert heat(changed(("watts_per_metre = 4\n", ""))) == ()
