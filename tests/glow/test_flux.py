"""Luminous flux of each light point: as given, from power by the named efficacy, or assumed outright."""

from pathlib import Path

import numpy as np
import pytest

from stackview.description import defaults
from stackview.description.reading import read_text
from stackview.glow.flux import Flux, flux_of
from stackview.light.layout import lay_out
from stackview.stack.assembly import assemble

BASE = """
name = "Test"
cutter = 3
[materials]
ply = { plywood = "birch", sold = 9, measured = 8.8 }
[[layer]]
name = "base"
material = "ply"
outline = { circle = 120 }
"""
DIODE = """
[[light]]
name = "{name}"
diode = {{ on = "base", facing = "up", height = 3 }}
face = [3, 3]
{more}
"""
PANEL = """
[[light]]
name = "panel"
panel = { on = "base", facing = "up", rows = 2, columns = 2 }
watts = 0.25
"""


def found(*lights: str) -> Flux:
    stack = assemble(read_text(BASE + "".join(lights), "test.toml", Path()))
    return flux_of(lay_out(stack))


def diode(name: str, more: str) -> str:
    return DIODE.format(name=name, more=more)


def test_given_lumens_are_taken_as_they_are() -> None:
    flux = found(diode("lamp", "lumens = 42.5\nwatts = 1"))
    assert flux.lumens.tolist() == [42.5]
    assert flux.total == 42.5
    assert flux.assumed == ()
    with pytest.raises(ValueError, match="read-only"):
        flux.lumens[0] = 1.0


def test_power_stands_in_for_lumens_at_the_assumed_efficacy() -> None:
    flux = found(diode("lamp", "watts = 0.5"))
    assert flux.total == pytest.approx(0.5 * defaults.EFFICACY.number)
    assert len(flux.assumed) == 1
    assert '"lamp"' in flux.assumed[0]
    assert "80 lm/W of 0.5 W" in flux.assumed[0]


def test_power_is_current_times_voltage() -> None:
    # P = U·I: 20 mA at 5 V are 0.1 W.
    flux = found(diode("lamp", "milliamps = 20\nvolts = 5"))
    assert flux.total == pytest.approx(0.1 * defaults.EFFICACY.number)


def test_without_power_the_flux_itself_is_assumed_and_said() -> None:
    flux = found(diode("lamp", ""))
    assert flux.total == defaults.LUMENS.number
    assert "assumed" in flux.assumed[0]
    assert "give lumens" in flux.assumed[0]


def test_each_light_is_told_by_itself() -> None:
    flux = found(diode("one", "lumens = 10"), diode("other", "watts = 1"))
    assert flux.lumens.tolist() == [10.0, pytest.approx(defaults.EFFICACY.number)]
    assert [("one" in line, "other" in line) for line in flux.assumed] == [(False, True)]


def test_every_point_of_a_light_has_the_same_flux() -> None:
    stack = assemble(read_text(BASE + PANEL, "test.toml", Path()))
    light = lay_out(stack)
    flux = flux_of(light)
    assert len(flux.lumens) == len(light.points) == 4
    # Watts in the file are of one light point.
    assert flux.lumens == pytest.approx(np.full(4, 0.25 * defaults.EFFICACY.number))
