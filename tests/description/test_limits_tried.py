"""A limit of all lengths is offered for one only where the lamp takes it."""

import pytest

from stackview.description.faults import Faults, Offer
from stackview.description.limits_tried import is_of_same, offers_tried
from stackview.description.reading import read_text
from stackview.description.written_length import LimitError, read_length
from stackview.errors import Fault, LampError
from tests.description.conftest import BASE, HEAD

CORE = 'core = { material = "ply", outline = { circle = 20 }, height = 90, wall = 2'
HOLE = f"{CORE}, hole = {{ diameter = 4, height = 30 }} }}\n"
SHEET = 'sheet = [{ material = "ply", size = [600, 400], margin = 8 }]\n'
TIER = """
[[groups.tier]]
name = "ring"
material = "ply"
outline = { circle = 120 }
[[layer]]
group = "tier"
repeat = 3
step = { size = -4 }
"""


def faults(above: str, below: str = "") -> list[str]:
    try:
        read_text(above + HEAD + BASE + below, "lamp.toml", ".")
    except LampError as refused:
        return [str(fault) for fault in refused.faults]
    return []


@pytest.mark.parametrize(
    ("above", "says"),
    [
        (
            f"{CORE}, sunk = 6000 }}\n",
            'core · sunk: 6000 is too large, and 5000 mm is refused too: 5000 mm goes through layer "base", '
            "9 mm thick: less",
        ),
        (
            HOLE.replace("height = 30", "height = 1e6"),
            "core · hole · height: 1000000.0 is too large, and 5000 mm is refused too: 5000 mm is past the end of "
            "the core, which is 90 mm long: drill it lower",
        ),
        (
            SHEET.replace("margin = 8", 'margin = "9 m"'),
            'sheet 1 · margin: "9 m" is too large (9 m is 9000 mm), and 5000 mm is refused too: 5000 mm along '
            "every edge leaves nothing of a sheet 600 mm × 400 mm: at most 199.99 mm",
        ),
        # what is refused too may be said of the whole of which the length is one
        (
            HOLE.replace("{ circle = 20 }", "{ circle = 20, inset = 5001 }"),
            "core · outline · inset: 5001 is too large, and 5000 mm is refused too: 5000 mm leaves nothing: make it "
            "at most 9.99 mm",
        ),
        # of two lengths the one that was written too large is tried
        (
            'surface = { size = [900, 600], at = [0, -9000] }\n',
            "surface · at: -9000 is too small, and -5000 mm is refused too: 0 mm, -5000 mm is off the surface, which "
            "reaches 450 mm and 300 mm from its middle: move the lamp onto it",
        ),
        # a limit that is taken is offered
        ("clearance = -1\n", "clearance: -1 is negative; a distance inside a part is at least 0 mm: "
         "write it without the minus"),
    ],
)  # fmt: skip
def test_the_tighter_reason_is_told_at_once(above: str, says: str) -> None:
    assert faults(above) == [says]


def test_of_a_negative_one_whose_limit_fails_no_number_is_offered() -> None:
    light = HOLE + "light = [{ leds_per_metre = 60, cut_every = -50, runs = { count = 1 } }]\n"
    assert faults(light) == ["light 1 · cut_every: -50 is negative: write it without the minus"]


def test_the_reason_may_be_told_of_a_copy_of_the_layer() -> None:
    (said,) = faults("", TIER.replace("-4", "-8000"))
    assert said.startswith(
        'layer 2 (group "tier") · step · size: -8000 is too small, and -5000 mm is refused too: leaves -4880 mm'
    )


def test_each_of_several_is_tried_alone() -> None:
    said = faults(f"{CORE}, sunk = 6000 }}\n" + SHEET.replace("= 8", "= 7000"))
    assert ["5000 mm is refused too" in each for each in said] == [True, True]


def offering(many: int) -> Faults:
    found = Faults()
    with pytest.raises(LimitError) as wrong:
        read_length(6000, "mm", high=5000.0, of="a size")
    for index in range(many):
        fault = Fault(f"core {index}", str(wrong.value))
        found.add(fault.where, fault.what)
        found.offers[fault] = Offer({"a": 6000}, ("a",), wrong.value)
    return found


def test_of_many_the_first_are_tried_and_no_other_is_offered() -> None:
    read: list[object] = []

    def taken(tables: dict[str, object]) -> Faults:
        read.append(tables)
        return Faults()

    said = offers_tried(offering(20), taken)
    assert read == [{"a": "5000 mm"}] * 12
    assert [fault.what for fault in said] == [
        *["6000 is too large; a size is at most 5000 mm: check the number and its unit"] * 12,
        *["6000 is too large: check the number and its unit"] * 8,
    ]


def test_what_else_is_amiss_with_the_lamp_is_no_reason() -> None:
    def elsewhere(_: object) -> Faults:
        found = Faults()
        found.add("cord · at", "is far off")
        return found

    found = offering(1)
    assert offers_tried(found, elsewhere) == found.all()
    assert not is_of_same('layer "ring"', 'layer "ring" · wall')
