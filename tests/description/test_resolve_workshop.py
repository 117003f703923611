from pathlib import Path

import pytest

from stackview.description.reading import read_text
from stackview.description.workshop import Workshop
from stackview.errors import LampError

LAMP = """
name = "Small"
[materials]
oak = { wood = "ash", sold = 18 }
tube = { metal = "aluminium" }
[[layer]]
name = "base"
material = "oak"
outline = { circle = 100 }
[core]
material = "tube"
outline = { circle = 30 }
wall = 2
height = 60
"""


def workshop(more: str) -> Workshop:
    return read_text(LAMP + more, "lamp.toml", Path()).workshop


def test_what_is_written_is_taken_and_the_rest_as_usual() -> None:
    made = workshop(
        '[router]\nflutes = 3\ngroove = "1.5 mm"\n[finishing]\nwood = "Shellac"\ncoats = 6\n'
        '[wiring]\ntail = 80\njoin = "connector"\njoined_in = "base"\n'
    )
    assert (made.router.flutes, made.router.groove, made.router.outline) == (3, 1.5, None)
    assert (made.router.least_rpm, made.router.most_rpm) == (8000.0, 24000.0)
    assert (made.finishing.wood.name, made.finishing.wood.coats, made.finishing.wood.hours) == (
        "shellac",
        6,
        1.0,
    )
    assert (made.wiring.tail, made.wiring.join, made.wiring.joined_in) == (80.0, "connector", "base")


def test_a_finish_of_ones_own_needs_coats_and_hours_and_its_rags_count_as_oily() -> None:
    own = workshop('[finishing]\nwood = "aunt\'s own"\ncoats = 2\nhours = 5\n').finishing.wood
    assert (own.name, own.coats, own.hours, own.oily) == ("aunt's own", 2, 5.0, True)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ('[finishing]\nwood = "shelac"\n', 'no finish "shelac" in the table'),
        (
            "[router]\nleast_rpm = 30000\n",
            "its slowest, least_rpm = 30000, is faster than its fastest, most_rpm = 24000: change one",
        ),
        ("[finishing]\nwood_grits = [240, 120]\n", "do not go from coarse to fine"),
        ('[wiring]\njoined_in = "bass"\n', "base"),
        ("[router]\nflutes = 0\n", "outside its limits"),
        ("[router]\nflute = 2\n", "unknown key"),
    ],
)
def test_what_cannot_be_is_told(more: str, told: str) -> None:
    with pytest.raises(LampError, match=told):
        workshop(more)


@pytest.mark.parametrize(
    ("hole", "told"),
    [
        ("{ diameter = 40, height = 5 }", "as wide as the core"),
        ("{ diameter = 5, height = 58 }", "past the end of the core"),
    ],
)
def test_a_hole_in_the_core_lies_in_it(hole: str, told: str) -> None:
    text = LAMP.replace("wall = 2\n", f"wall = 2\nhole = {hole}\n")
    with pytest.raises(LampError, match=told):
        read_text(text, "lamp.toml", Path())


def test_a_hole_in_a_solid_core_leads_nowhere() -> None:
    with pytest.raises(LampError, match="leads nowhere"):
        read_text(LAMP.replace("wall = 2\n", "hole = { diameter = 5, height = 5 }\n"), "lamp.toml", Path())


def test_holes_of_a_core_are_kept() -> None:
    text = LAMP.replace("wall = 2\n", "wall = 2\nhole = { diameter = 5, height = 5, bearing = 90 }\n")
    (hole,) = read_text(text, "lamp.toml", Path()).core.holes
    assert (hole.diameter, hole.height, hole.bearing) == (5.0, 5.0, 90.0)
