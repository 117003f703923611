"""The lamp's outside, inside and heat sources, by hand."""

from math import pi, sqrt

import pytest

from stackview.checks.shell import shell_of, source_of
from tests.checks.written import changed, subject


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


def test_a_diodes_board_and_what_heat_reaches_beside_it() -> None:
    text = """
name = "x"
materials.a = { wood = "ash", sold = 16.9 }
layer = [{ name = "a", material = "a", outline = { circle = 150 } }]
light = [{ diode = { facing = "up" }, watts = 1 }]
"""
    lamp = subject(text)
    found = source_of(lamp, lamp.light.lit[0])
    # the usual board of 20 mm, and √(kt/h) = √(0.13·0.0169/10) = 14.8 mm beside it
    reach = 0.010 + sqrt(0.13 * 0.0169 / 10.0)
    assert found.in_air == found.in_sight == pytest.approx(pi * reach**2)
    assert found.watts == pytest.approx(0.75)
    assert found.height == pytest.approx(2.0 * reach)
