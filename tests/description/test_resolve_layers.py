"""Layers as values: the wall, what is cut, copies around the axis, steps, grooves, bevels, bores."""

from collections.abc import Callable
from math import hypot

import pytest

from stackview.description import defaults
from stackview.description.lamp import Lamp
from stackview.description.outline import Around, Outline
from stackview.description.resolve_layers import copies, numbered, turned_about_axis
from stackview.description.shapes import Circle, Rectangle
from stackview.description.units import Units
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]

LAYER = (
    '[[layer]]\nname = "ring"\nmaterial = "ply"\noutline = { rectangle = [150, 90], corner_radius = 12 }\n'
)


def test_a_wall_is_an_inset_cut_with_round_corners(head: str, read: Read) -> None:
    (ring,) = read(head + LAYER + "wall = 14\n").layers
    (opening,) = ring.openings
    assert opening.main
    assert opening.outline == Outline(Rectangle(150, 90, 12), grow=-14, cutter_radius=1.5)
    assert ring.outline.cutter_radius == 0.0


def test_a_round_hole_has_no_corners_for_the_cutter(head: str, read: Read) -> None:
    (ring,) = read(head + LAYER + "opening = { circle = 30 }\n").layers
    assert ring.openings[0].outline == Outline(Circle(30))


def test_the_first_single_opening_is_the_main_one(head: str, read: Read) -> None:
    around = "{ circle = 5, around = { count = 3, circle = 60 } }"
    (ring,) = read(
        head + LAYER + f"opening = [{around}, {{ circle = 30 }}, {{ circle = 8, at = [30, 0] }}]\n"
    ).layers
    assert [opening.main for opening in ring.openings] == [False, True, False]
    (walled,) = read(head + LAYER + "wall = 14\nopening = { circle = 3 , at = [70, 0] }\n").layers
    assert [opening.main for opening in walled.openings] == [True, False]


def test_a_written_recess_grows_by_its_own_clearance_alone(head: str, read: Read) -> None:
    text = head + LAYER + "recess = { depth = 2, outline = { circle = 40 }CLEARANCE }\n"
    (plain,) = read(text.replace("CLEARANCE", "")).layers[0].recesses
    assert (plain.clearance, plain.outline.grow, plain.fitted_to) == (0.0, 0.0, None)
    (eased,) = read(text.replace("CLEARANCE", ", clearance = 0.3")).layers[0].recesses
    assert (eased.clearance, eased.outline.grow) == (0.3, 0.3)


@pytest.mark.parametrize("count", [1, 2, 3, 7])
def test_copies_stand_on_their_circle_evenly(count: int) -> None:
    made = copies(Outline(Circle(5.0), turn=10.0), Around(count, 80.0, first=0.0))
    assert len(made) == count
    # Bearing 0° is the front, −y.
    assert made[0].at == pytest.approx((0.0, -40.0))
    assert [hypot(*each.at) for each in made] == pytest.approx([40.0] * count)
    assert [each.turn for each in made] == pytest.approx(
        [10.0 + 360.0 * index / count for index in range(count)]
    )
    if count > 1:
        assert sum(each.at[0] for each in made) == pytest.approx(0.0, abs=1e-12)
        assert sum(each.at[1] for each in made) == pytest.approx(0.0, abs=1e-12)


def test_turning_about_the_axis_takes_the_place_along() -> None:
    aside = Outline(Circle(5.0), at=(10.0, 0.0))
    assert turned_about_axis(aside, 0.0) is aside
    quarter = turned_about_axis(aside, 90.0)
    assert quarter.at == pytest.approx((0.0, 10.0), abs=1e-12)
    assert quarter.turn == 90.0
    back = turned_about_axis(quarter, -90.0)
    assert back.at == pytest.approx(aside.at, abs=1e-12)


def test_one_is_not_numbered() -> None:
    assert numbered("recess", 0, 1) == "recess"
    assert [numbered("recess", index, 2) for index in range(2)] == ["recess 1", "recess 2"]


def test_grooves_bevels_and_bores_have_their_defaults(head: str, read: Read) -> None:
    cuts = 'groove = { along = "outline" }\nchamfer = { edge = ["top outer", "underside outer", "top outer"], width = 1 }\n'
    (ring,) = read(head + LAYER + cuts + "bore = { diameter = 4 }\n").layers
    (groove,) = ring.grooves
    assert (groove.distance, groove.width, groove.depth) == (
        defaults.GROOVE_DISTANCE.number, defaults.GROOVE_WIDTH.number, defaults.GROOVE_DEPTH.number,
    )  # fmt: skip
    # An edge named twice is bevelled once.
    assert [bevel.edge for bevel in ring.chamfers] == ["top outer", "underside outer"]
    assert {bevel.angle for bevel in ring.chamfers} == {45.0}
    (bore,) = ring.bores
    assert (bore.height, bore.bearing, bore.length) == (4.5, 180.0, None)


def test_a_step_of_size_is_half_of_it_per_side(head: str, read: Read) -> None:
    first, second, third = read(head + LAYER + "repeat = 3\nstep = { size = -6, thickness = -1 }\n").layers
    assert [layer.outline.grow for layer in (first, second, third)] == [0.0, -3.0, -6.0]
    assert [layer.thickness for layer in (first, second, third)] == [9.0, 8.0, 7.0]


def test_a_finish_of_its_own_wins(head: str, read: Read) -> None:
    plate = '[[layer]]\nname = "plate"\nmaterial = "clear"\noutline = { circle = 90 }\n'
    assert read(head + plate).layers[0].finish.top == "clear"
    sanded = read(head + plate + 'finish = "sanded"\n').layers[0].finish
    assert (sanded.top, sanded.underside, sanded.edge) == ("sanded",) * 3


def test_a_turn_of_grain_adds_to_the_boards(head: str, read: Read) -> None:
    layers = read(head + LAYER + "grain = 30\nrepeat = 2\nstep = { grain = 90 }\n").layers
    assert [layer.grain for layer in layers] == [30.0, 120.0]
    assert read(head + LAYER).layers[0].grain == 90.0


@pytest.mark.parametrize(
    ("thickness", "step", "said"),
    [
        ("", "", ".500 in"),
        ('thickness = "1/2 in"\n', "", "1/2 in"),
        ("thickness = 0.375\n", "", "0.375 in"),
        ("", "step.thickness = -0.1\n", "0.400 in"),
    ],
)
def test_a_thickness_is_shown_as_it_was_written(read: Read, thickness: str, step: str, said: str) -> None:
    # A step makes another thickness of it: the second copy is shown as it is.
    text = 'name = "t"\nunit = "in"\nmaterials.ply = { plywood = "birch", sold = "12 mm", measured = ".500 in" }\n'
    text += f'[[groups.g]]\nname = "ring"\nmaterial = "ply"\n{thickness}'
    text += f'outline = {{ circle = 3 }}\n[[layer]]\ngroup = "g"\nrepeat = 2\n{step}'
    last = read(text).layers[-1]
    assert Units("in").show(last.thick) == said
    assert read(text).layers[0].as_cut.written is None
