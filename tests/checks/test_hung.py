"""What a pendant's cord bears: followed by hand on stacks of plain blocks."""

from math import pi

import pytest

from stackview.checks.hung import carried, hung
from stackview.checks.repair import held_by
from stackview.findings import Level
from tests.checks.written import subject

HEAD = 'name = "x"\nmaterials.w = { plywood = "birch", sold = 10, density = 700 }\npendant = { underside = 1500 }\n'
TAIL = "[cord]\nlength = 1000\n"


def lamp(more: str = "", *, wall: str = "") -> str:
    """A floor of 60 across under a ring of 100, an upper ring and a lid, 10 thick each."""
    blocks = "".join(
        f'[[layer]]\nname = "{name}"\nmaterial = "w"\noutline = {{ circle = {across} }}\n{rows}\n'
        for name, across, rows in (
            ("floor", 60, ""),
            ("ring", 100, "wall = 30"),
            ("upper", 100, "wall = 30"),
            ("lid", 100, wall),
        )
    )
    return HEAD + blocks + more + TAIL


@pytest.mark.parametrize(
    ("more", "held"),
    [
        ("", {"floor", "ring", "upper", "lid"}),
        ('[glue]\nloose = ["lid"]\n', {"lid"}),
        ('[glue]\nloose = ["ring"]\n', {"upper", "lid"}),
        # Screws through the ring into the upper one bear the ring; the floor under it is still unglued.
        (
            '[glue]\nloose = ["ring"]\n[[screw]]\nname = "s"\nthrough = "ring"\ninto = "upper"\nlength = 15\n',
            {"ring", "upper", "lid"},
        ),
        # Through the floor into the lid they clamp all that lies between.
        (
            '[glue]\nloose = ["ring", "upper"]\n[[screw]]\nname = "s"\nthrough = "floor"\ninto = "lid"\nlength = 35\n',
            {"floor", "ring", "upper", "lid"},
        ),
    ],
)
def test_what_is_held_by_hand(more: str, held: set[str]) -> None:
    assert carried(subject(lamp(more)).stack) == held


def test_what_would_fall_is_weighed() -> None:
    (found,) = hung(subject(lamp('[glue]\nloose = ["ring"]\n')))
    # A disc of 60, and a ring of 100 with a hole of 40, of 10 mm of 0.7 g/cm³.
    grams = pi / 4.0 * (60.0**2 + 100.0**2 - 40.0**2) * 10.0 * 700e-6
    assert (found.level, found.parts) == (Level.FAULT, ("floor", "ring"))
    assert found.value == pytest.approx(grams, rel=2e-3)
    assert "ring stays unglued under upper, and no screw holds it" in found.what
    assert 'let "ring" be glued' in found.advice


def test_what_rests_on_a_part_that_is_held_needs_no_glue() -> None:
    # A plate in the recess of a glued ring lies there by its weight.
    plate = '[[layer]]\nname = "plate"\nmaterial = "w"\noutline = { circle = 60 }\nthickness = 3\n'
    text = lamp('[glue]\nloose = ["plate"]\n').replace(
        '[[layer]]\nname = "upper"', plate + '[[layer]]\nname = "upper"'
    )
    text = text.replace("wall = 30\n", "wall = 30\nrecess = { depth = 3.5 }\n", 1)
    (found,) = hung(subject(text))
    assert found.level == Level.FACT


def test_a_lamp_of_one_layer_needs_no_word() -> None:
    alone = HEAD + '[[layer]]\nname = "lid"\nmaterial = "w"\noutline = { circle = 90 }\n' + TAIL
    assert list(hung(subject(alone))) == []


def test_nothing_but_screws_is_named_to_hold_a_lamp_that_hangs() -> None:
    assert held_by(subject(lamp()).lamp) == "screws that bear all that hangs below"
    assert held_by(subject().lamp) == "screws, magnets or pins"
