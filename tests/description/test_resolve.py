"""The whole file resolved: defaults filled in, the core held against openings, faults collected."""

from collections.abc import Callable

import pytest

from stackview.description import defaults
from stackview.description.lamp import Lamp
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]
Many = Callable[[str], tuple[Fault, ...]]

RING = """
[[layer]]
name = "ring"
material = "ply"
outline = { circle = 100 }
opening = { OPENING }
"""
CORE = """
[materials.tube]
metal = "aluminium"
[core]
material = "tube"
outline = { CORE }
height = 60
stands_on = "base"
"""


def cored(base: str, opening: str, core: str) -> str:
    return base + RING.replace("OPENING", opening) + CORE.replace("CORE", core)


def test_a_bare_lamp_has_the_usual_values(base: str, read: Read) -> None:
    lamp = read(base.replace("cutter = 3\n", ""))
    assert lamp.cutter == pytest.approx(defaults.CUTTER.number)
    assert lamp.chord_error == defaults.CHORD_ERROR.number
    assert lamp.core is lamp.feet is lamp.cord is None
    assert lamp.posts == lamp.lights == ()
    assert lamp.cable is not None
    assert not lamp.cable.written
    assert not lamp.gluing.written
    assert lamp.limits == ()


def test_the_files_own_values_are_taken(base: str, read: Read) -> None:
    lamp = read(base.replace("cutter = 3", 'unit = "cm"\ncutter = 0.3\nchord_error = 0.01'))
    assert lamp.unit == "cm"
    assert lamp.cutter == pytest.approx(3.0)
    assert lamp.chord_error == pytest.approx(0.1)


def test_a_core_passes_an_opening_of_its_own_size(base: str, read: Read) -> None:
    assert read(cored(base, "circle = 30", "circle = 30")).core is not None


@pytest.mark.parametrize(
    ("opening", "core", "word", "across"),
    [
        ("circle = 29", "circle = 30", "narrowest", "30 mm"),
        # A hexagon passes by its flats and sticks by its corners: 30/cos 30° = 34.641 mm.
        ("circle = 32", "sides = 6, across_flats = 30", "widest", "34.64 mm"),
    ],
)
def test_a_core_that_no_opening_passes(
    base: str, fault: One, opening: str, core: str, word: str, across: str
) -> None:
    found = fault(cored(base, opening, core))
    assert found.where == "core · outline"
    assert f"{across} across at its {word}" in found.what
    assert '"ring"' in found.what


def test_a_core_that_ends_below_is_not_held_against_what_is_above(base: str, read: Read, fault: One) -> None:
    text = cored(base, "circle = 20", "circle = 30").replace("height = 60", "height = 0.5")
    # Half a millimetre high it meets the ring; sunk by as much it does not.
    assert '"ring"' in fault(text).what
    assert read(text.replace("height = 0.5", "height = 0.5\nsunk = 0.5")).core is not None


def test_a_lost_layer_is_no_news_elsewhere(base: str, faults: Many) -> None:
    text = base + '[[layer]]\nname = "lid"\nmaterial = "none"\noutline = { circle = 90 }\n'
    text += '[[post]]\nname = "pin"\nmaterial = "ply"\noutline = { circle = 5 }\nfrom = "base"\nto = "lid"\n'
    (only,) = faults(text)
    assert only.where == 'layer "lid" · material'


def test_a_limit_without_sense_names_its_place(base: str, fault: One) -> None:
    found = fault(base + '[limits]\n"thinnest wal" = 2\n')
    assert found.where.startswith("limits")
    assert "thinnest wal" in found.where + found.what
