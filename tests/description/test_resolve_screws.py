"""Screws: what is taken where the file says nothing, and what is refused."""

from collections.abc import Callable

import pytest

from stackview.description.lamp import Lamp, Screws
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]
RING = '[[layer]]\nname = "ring"\nmaterial = "ply"\noutline = {{ circle = 100 }}\nthickness = {}\n'
SCREW = '[[screw]]\nname = "lid"\nthrough = "ring"\ninto = "base"\n'
UPWARDS = '[[screw]]\nname = "lid"\nthrough = "base"\ninto = "ring"\n'


def test_a_sold_length_that_stays_inside(base: str, read: Read) -> None:
    # 9 + 9 − 2 = 16 is the most
    (screws,) = read(base + RING.format(9) + SCREW).screws
    assert screws == Screws("lid", 4, 4.0, 16.0, "ring", "base")
    # up into 30 mm: three times the 9 mm under its head is 27, and 25 is sold
    (screws,) = read(base + RING.format(30) + UPWARDS).screws
    assert (screws.through, screws.into, screws.length) == ("base", "ring", 25.0)


def test_what_is_written_holds(base: str, read: Read) -> None:
    (screws,) = read(base + RING.format(9) + SCREW + "count = 6\ndiameter = 3\nlength = 14\n").screws
    assert (screws.count, screws.diameter, screws.length) == (6, 3.0, 14.0)


@pytest.mark.parametrize(
    ("more", "where", "what"),
    [
        ("length = 18\n", 'screw "lid" · length', "18 mm comes out of the layers, which are 18 mm together"),
        ("length = 40\n", 'screw "lid" · length', "40 mm comes out"),
    ],
)
def test_a_screw_that_comes_out_is_refused(base: str, fault: One, more: str, where: str, what: str) -> None:
    found = fault(base + RING.format(9) + SCREW + more)
    assert found.where == where
    assert what in found.what


def test_layers_have_to_be_two_that_are_known(base: str, fault: One) -> None:
    assert "is the one that they go through" in fault(base + SCREW.replace('"ring"', '"base"')).what
    assert fault(base + SCREW).where == 'screw "lid" · through'
