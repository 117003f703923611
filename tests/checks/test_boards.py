"""Panels and diodes over openings, and the way of their wires into a recess."""

import pytest

from stackview.checks.boards import boards
from stackview.checks.wiring import wiring
from stackview.findings import Level
from tests.checks.written import subject

HEAD = 'name = "x"\nmaterials.w = { wood = "ash", sold = 20, measured = 20 }\n'


def lamp(rows: str, more: str = "") -> str:
    """A slab of 160 × 100 × 20 under a diode at its middle, with a lid over it on a frame."""
    return (
        HEAD
        + f'[[layer]]\nname = "slab"\nmaterial = "w"\noutline = {{ rectangle = [160, 100] }}\n{rows}\n'
        + '[[layer]]\nname = "frame"\nmaterial = "w"\noutline = { rectangle = [160, 100] }\nwall = 20\n'
        + '[[light]]\nname = "spot"\ndiode = { on = "slab", height = 2 }\nwatts = 1\n'
        + more
    )


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("", 0),
        ("opening = { circle = 8 }", 0),
        ("recess = { depth = 8, outline = { circle = 60 } }", 0),
        ("opening = { circle = 40 }", 1),
    ],
)
def test_a_board_over_a_wide_opening_lies_on_nothing(rows: str, told: int) -> None:
    found = list(boards(subject(lamp(rows))))
    assert [(one.level, one.where) for one in found] == [(Level.CAUTION, 'light "spot"')] * told


@pytest.mark.parametrize(
    ("height", "gets_there"),
    [
        (14, True),  # 11 to 17 high, it opens into a recess whose floor is at 12
        (13, True),
        (7, False),  # 4 to 10: solid wood lies between
    ],
)
def test_wires_come_from_a_bore_into_the_recess_of_a_diode(height: int, gets_there: bool) -> None:
    rows = (
        f"recess = {{ depth = 8, outline = {{ circle = 60 }} }}\nbore = {{ diameter = 6, height = {height} }}"
    )
    cable = '[cable]\nlength = "1 m"\nwire = "0.34 mm2"\n'
    faults = [one for one in wiring(subject(lamp(rows, cable))) if one.level == Level.FAULT]
    assert (faults == []) is gets_there
