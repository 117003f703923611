import math
from collections.abc import Callable

import pytest

from stackview.description.lamp import Eye, Lamp, Surface
from stackview.description.outline import Around
from stackview.description.resolve_parts import wire_area
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]
RING = '[[layer]]\nname = "ring"\nmaterial = "ply"\noutline = { circle = 100 }\nopening = { circle = 40 }\n'
POST = '[[post]]\nname = "pin"\nmaterial = "ply"\noutline = { circle = 4 }\n'


def test_the_usual_eyes_and_a_table(base: str, read: Read) -> None:
    lamp = read(base)
    assert lamp.surface == Surface(740, (1200, 700), (0, 0))
    assert lamp.hangs_at is None
    assert [eye.name for eye in lamp.eyes] == ["standing", "seated", "lying"]
    assert lamp.eyes[2].height == 740 + 150


def test_eyes_written_replace_the_usual_ones(base: str, read: Read) -> None:
    lamp = read(base + '[[eye]]\nname = "cat"\ndistance = "3 ft"\nheight = "1 ft"\n')
    assert lamp.eyes == (Eye("cat", 914.4, 304.8),)


def test_a_pendant_has_no_surface(base: str, read: Read) -> None:
    lamp = read(base + '[pendant]\nunderside = 1500\n[cord]\nwire = "AWG 20"\nlength = "3 m"\nat = [5, 0]\n')
    assert (lamp.surface, lamp.hangs_at) == (None, 1500)
    assert lamp.cord is not None
    assert (lamp.cord.length, lamp.cord.at) == (3000, (5, 0))
    # ASTM B258: AWG 20 is 0.0320 in across (printed to three figures)
    assert lamp.cord.wire_mm2 == pytest.approx(math.pi / 4 * (0.0320 * 25.4) ** 2, rel=4e-3)


# resistance by check values: copper 0.017241 Ω·mm²/m over the area, AWG 18 20.948 and 24 84.213 mΩ/m
@pytest.mark.parametrize(("gauge", "milliohms"), [(18, 20.948), (20, 33.308), (24, 84.213), (30, 338.550)])
def test_wire_gauges(gauge: int, milliohms: float) -> None:
    area = wire_area(f"AWG {gauge}")
    assert area is not None
    assert 17.241 / area == pytest.approx(milliohms, abs=1e-3)


@pytest.mark.parametrize("text", ["thin", "AWG 99", "0 mm2", "1000 mm2", "mm2", "awg -1"])
def test_no_wire_size(text: str) -> None:
    assert wire_area(text) is None


def test_feet_stand_near_the_edge(base: str, read: Read) -> None:
    feet = read(base + "[feet]\n").feet
    assert feet is not None
    assert feet.around == Around(3, 120 - 2 * 5 - 12, 0)
    assert (feet.diameter, feet.height, feet.material.sort) == (12, 3, "rubber")


def test_the_core_stands_on_the_lowest_layer(base: str, read: Read) -> None:
    core = read(base + RING + '[core]\nmaterial = "ply"\noutline = { circle = 30 }\n').core
    assert core is not None
    assert (core.stands_on, core.hangs_from, core.height, core.wall) == ("base", None, None, None)


def test_posts(base: str, read: Read) -> None:
    (post,) = read(base + RING + POST + 'from = "base"\nto = "ring"\ninset = [2, 1]\n').posts
    assert (post.start, post.end, post.inset) == ("base", "ring", (2, 1))


def test_insets_that_surely_leave_nothing_of_a_post_are_told(base: str, fault: One) -> None:
    found = fault(base + RING + POST + 'from = "base"\nto = "ring"\ninset = [9, 9]\n')
    assert found.where == 'post "pin" · inset'
    assert found.what == "9 mm and 9 mm leave nothing of it: its layers are 18 mm together; inset it less"


CORE = '[core]\nmaterial = "ply"\noutline = { circle = 30 }\nheight = 50\n'


@pytest.mark.parametrize(
    ("text", "where", "says"),
    [
        (CORE + "wall = 15\n", "core · wall", "15 mm on both sides of a core 30 mm leaves no tube"),
        (CORE + 'stands_on = "bse"\n', "core · stands_on", 'no layer is called "bse"; did you mean "base"?'),
        (CORE + 'stands_on = "base"\nhangs_from = "ring"\n', "core", "both given: keep one"),
        (CORE + "sunk = 9\n", "core · sunk", '9 mm goes through layer "base", 9 mm thick'),
        (
            CORE.replace("30", "41"),
            "core · outline",
            'the core is 41 mm across at its narrowest, and the opening of layer "ring" is 40 mm',
        ),
        (
            CORE.replace("circle = 30", "rectangle = [10, 45]"),
            "core · outline",
            'widest, and the opening of layer "ring" is 40 mm: a larger opening, or a thinner core',
        ),
        (
            CORE.replace('"ply"', '"plly"'),
            "core · material",
            'no material "plly" under [materials]; did you mean "ply"?',
        ),
        (POST + 'from = "ring"\nto = "base"\n', 'post "pin"', 'above layer "base": exchange from and to'),
        (
            POST.replace("pin", "ring") + 'from = "base"\nto = "ring"\n',
            'post "ring" · name',
            "another part has this name",
        ),
        ("[feet]\ncircle = 130\n", "feet · circle", "120 mm across: give a circle of at most 108 mm"),
        ("[cord]\n", "cord", "add [pendant] with underside"),
        (
            "[pendant]\nunderside = 1500\n[cord]\nat = [60, 0]\n",
            "cord · at",
            "60 mm from the middle of the top layer, which reaches 50 mm",
        ),
        (
            '[pendant]\nunderside = 1500\n[cord]\nwire = "thin"\n',
            "cord · wire",
            '"thin" is no wire size: write "0.5 mm2"',
        ),
        (
            "[pendant]\nunderside = 1500\n[surface]\n",
            "pendant",
            "surface and pendant are both given: keep one",
        ),
        (
            "[pendant]\nunderside = -1\n",
            "pendant · underside",
            "-1 is negative; a height in a room is at least 0 mm",
        ),
        ("[surface]\nsize = [10, 10]\ndiameter = 20\n", "surface", "size and diameter are both given"),
        ("[surface]\nat = [700, 0]\n", "surface · at", "is off the surface, which reaches 600 mm and 350 mm"),
        (
            "[surface]\nsize = [100]\n",
            "surface · size",
            "should be 2 lengths in brackets, width and depth: [1200, 700]",
        ),
        (
            '[[eye]]\nname = "a"\ndistance = 3\nheight = 2\n',
            'eye "a" · distance',
            "3 is too small; an eye's distance is at least 50 mm",
        ),
        ('[[eye]]\nname = "a"\ndistance = "1e9"\nheight = 2\n', 'eye "a" · distance', "is not a length"),
        ('[[eye]]\nname = "a"\ndistance = 0\nheight = 2\n', 'eye "a" · distance', "at least 50 mm"),
        ('[[eye]]\nname = "a"\ndistance = 51000\nheight = 2\n', 'eye "a" · distance', "at most 50000 mm"),
        ('[[eye]]\nname = "a"\ndistance = 500\nheight = "9 mil"\n', 'eye "a" · height', '"mil" is refused'),
    ],
)
def test_faults(base: str, fault: One, text: str, where: str, says: str) -> None:
    found = fault(base + RING + text)
    assert found.where == where
    assert says in found.what


def test_a_core_that_ends_below_a_narrow_opening_passes(base: str, read: Read) -> None:
    assert read(
        base
        + RING.replace("circle = 40", "circle = 50")
        + RING.replace("ring", "top")
        + CORE.replace("30", "45").replace("50", "9")
    ).core


def test_a_repeated_layer_must_be_named_with_its_number(tier: str, fault: One) -> None:
    found = fault(tier + '[[layer]]\ngroup = "tier"\nrepeat = 3\n' + POST + 'from = "ring"\nto = "ring 3"\n')
    assert found.where == 'post "pin" · from'
    assert 'layer "ring" is repeated: say which, "ring 1" to "ring 3"' in found.what


def test_two_eyes_of_one_name(base: str, fault: One) -> None:
    eye = '[[eye]]\nname = "a"\ndistance = 500\nheight = 2\n'
    assert "two eyes have this name" in fault(base + eye + eye).what


def test_feet_wider_than_the_lowest_layer_are_offered_no_circle(
    base: str, fault: Callable[[str], Fault]
) -> None:
    """Found by typing in what a random lamp was offered: a circle of at most −10.26 mm."""
    assert fault(base + "\n[feet]\ndiameter = 130\n").what.endswith(
        "across: give smaller feet, or leave them out"
    )
    assert "a circle of at most 100 mm" in fault(base + "\n[feet]\ndiameter = 20\ncircle = 110\n").what
