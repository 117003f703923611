"""Every fault names the field, the value, the limit and what to do."""

from collections.abc import Callable

import pytest

from stackview.description.lamp import Lamp
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]


@pytest.mark.parametrize(
    ("added", "where", "value", "limit", "advice"),
    [
        (
            "recess = { depth = 9, outline = { circle = 30 } }",
            "recess · depth",
            "9 mm",
            "9 mm",
            "make it shallower",
        ),
        (
            "recess = [{ depth = 5, outline = { circle = 30 } },"
            '{ face = "underside", depth = 4, outline = { circle = 30 } }]',
            "recess",
            "5 mm from the top",
            "9 mm thick",
            "make them shallower",
        ),
        (
            "recess = { depth = 1, outline = { circle = 121 } }",
            "recess",
            "121 mm",
            "120 mm",
            "make it smaller",
        ),
        (
            "recess = { depth = 1, outline = { rectangle = [20, 2] } }",
            "recess",
            "2 mm",
            "3 mm",
            "smaller cutter",
        ),
        ("opening = { circle = 200 }", "opening", "100 mm", "60 mm", "make it smaller or move it inwards"),
        ("opening = { circle = 120 }", "opening", "60 mm", "60 mm", "make it smaller"),
        ("opening = { circle = 6, at = [58, 0] }", "opening", "61 mm", "60 mm", "move it inwards"),
        (
            "opening = { circle = 6, around = { count = 3, circle = 116 } }",
            "opening",
            "61 mm",
            "60 mm",
            "inwards",
        ),
        ("opening = { rectangle = [30, 2.5] }", "opening", "2.5 mm", "3 mm", "name a smaller cutter"),
        ("opening = [{ circle = 6 }, { circle = 200 }]", "opening 2", "100 mm", "60 mm", "make it smaller"),
        ("wall = 60", "wall", "60 mm", "120 mm across", "at most 58.5 mm"),
        (
            'chamfer = { edge = "top outer", width = 9.5 }',
            "chamfer",
            "9.5 mm",
            "9 mm thick",
            "make it smaller",
        ),
        (
            'chamfer = { edge = ["top outer", "underside outer"], width = 5 }',
            "chamfer",
            "10 mm",
            "9 mm thick",
            "make it smaller",
        ),
        (
            'chamfer = { edge = "top opening", width = 1 }',
            "chamfer",
            "opening",
            "has none",
            "add wall or opening",
        ),
        (
            'chamfer = [{ edge = "top outer", width = 1 }, { edge = "top outer", width = 2 }]',
            "chamfer",
            "top outer",
            "twice",
            "keep one",
        ),
        ("bore = { diameter = 9 }", "bore", "9 mm", "9 mm thick", "make it smaller"),
        (
            "bore = { diameter = 4, height = 1 }",
            "bore",
            "4 mm at a height of 1 mm",
            "9 mm thick",
            "mid-height",
        ),
        ("groove = { width = 1 }", "groove", "along a recess", "has none", "add a recess"),
        ('groove = { along = "opening" }', "groove", "along the opening", "has none", "add wall or opening"),
        ('groove = { along = "outline", depth = 9 }', "groove · depth", "9 mm", "9 mm", "make it shallower"),
        ('finish = "sanded"', "finish", "plywood", "only acrylic", "leave the finish out"),
    ],
)
def test_one_layer(
    base: str, fault: One, added: str, where: str, value: str, limit: str, advice: str
) -> None:
    found = fault(base + added + "\n")
    assert found.where == f'layer "base" · {where}'
    assert value in found.what
    assert limit in found.what
    assert advice in found.what


def test_a_groove_under_a_recess_counts_from_its_floor(base: str, fault: One) -> None:
    found = fault(base + "recess = { depth = 8.5, outline = { circle = 50 } }\ngroove = { depth = 0.8 }\n")
    assert found.where == 'layer "base" · groove · depth'
    assert "0.8 mm goes through: 0.5 mm is left" in found.what


def test_what_just_fits_is_no_fault(base: str, read: Read) -> None:
    read(base + "recess = { depth = 8.9, outline = { circle = 30 } }\n")
    read(base + "opening = { circle = 119.9 }\n")
    read(base + "wall = 59.9\n")
    read(base + 'chamfer = { edge = "top outer", width = 9 }\n')
    read(base + "bore = { diameter = 8.9 }\n")


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("-120", "-120 is negative; a size of a part is at least 0.01 mm"),
        ("0", "0 is too small; a size of a part is at least 0.01 mm"),
        ("1e-3", "0.001 is too small; a size of a part is at least 0.01 mm"),
        ('"17 ft"', '"17 ft" is too large (17 ft is 5181.6 mm); a size of a part is at most 5000 mm'),
        ("nan", "nan is not a finite length"),
        ("inf", "inf is not a finite length"),
        ('"120 mil"', '"mil" is refused'),
        ("true", "true is not a length"),
        ("2020-01-01", "is not a length"),
        ("[3]", "is not a length"),
    ],
)
def test_negative_and_absurd_sizes(base: str, fault: One, written: str, says: str) -> None:
    found = fault(base.replace("circle = 120", f"circle = {written}"))
    assert found.where == 'layer "base" · outline · circle'
    assert says in found.what


@pytest.mark.parametrize(("word", "ours"), [("side", "edge"), ("bottom", "underside"), ("tops", "top")])
def test_a_finish_for_a_face_that_does_not_exist(base: str, fault: One, word: str, ours: str) -> None:
    plate = '[[layer]]\nname = "plate"\nmaterial = "clear"\noutline = { circle = 100 }\n'
    found = fault(base + plate + f'finish = {{ {word} = "sanded" }}\n')
    assert found.where == 'layer "plate" · finish'
    assert f'unknown key "{word}"; did you mean "{ours}"?' in found.what
    assert "top, underside, edge" in found.what


def test_finish_face_by_face(base: str, read: Read) -> None:
    plate = '[[layer]]\nname = "plate"\nmaterial = "clear"\noutline = { circle = 100 }\n'
    finish = read(base + plate + 'finish = { underside = "sanded" }\n').layers[1].finish
    assert (finish.top, finish.underside, finish.edge) == ("clear", "sanded", "clear")
    finish = read(base + plate + 'finish = "sanded"\n').layers[1].finish
    assert (finish.top, finish.underside, finish.edge) == ("sanded", "sanded", "sanded")


def test_a_layer_without_thickness(base: str, fault: One) -> None:
    found = fault(base.replace("sold = 9\n", ""))
    assert found.where == 'layer "base" · thickness'
    assert 'nor has its material "ply": add thickness' in found.what


def test_a_layers_own_thickness_wins(base: str, read: Read) -> None:
    assert read(base + 'thickness = "1/2 in"\n').layers[0].thickness == 12.7


def test_a_groove_counts_from_its_seat_and_not_from_a_deeper_pin_hole(base: str, read: Read) -> None:
    """Found by reading on from a random lamp: 9 mm less 8.5 mm of a pin hole were taken for all that is left."""
    pin = "{ depth = 8.5, outline = { circle = 4 }, around = { count = 3, circle = 66 } }"
    layer = read(
        base + f"recess = [{pin}, {{ depth = 2, outline = {{ circle = 50 }} }}]\ngroove = {{ depth = 0.8 }}\n"
    ).layers[0]
    assert layer.grooves


def test_the_most_that_a_wall_may_be_leaves_an_opening_as_wide_as_the_cutter(
    base: str, fault: One, read: Read
) -> None:
    found = fault(base + "wall = 60\n")
    assert found.what.endswith("leaves no opening: at most 58.5 mm, which leaves one as wide as the cutter")
    assert read(base + "wall = 58.5\n").layers[0].openings[0].outline.radius == 1.5
