from collections.abc import Callable

import pytest

from stackview.description.lamp import Lamp
from stackview.description.shapes import Circle
from stackview.errors import Fault

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]


def test_groups_repeat_and_names_count_on(tier: str, read: Read) -> None:
    lamp = read(
        tier + '[[layer]]\ngroup = "tier"\nrepeat = 2\nstep = { size = -4 }\n'
        '[[layer]]\ngroup = "tier"\nrepeat = 2\nfirst = { size = -8 }\nstep = { size = -4 }\n'
    )
    assert [layer.name for layer in lamp.layers] == [
        "ring 1", "plate 1", "ring 2", "plate 2", "ring 3", "plate 3", "ring 4", "plate 4",
    ]  # fmt: skip
    across = [2 * (60 + layer.outline.grow) for layer in lamp.layers if layer.name.startswith("ring")]
    assert across == [120, 116, 112, 108]


def test_a_group_used_once_keeps_its_names(tier: str, read: Read) -> None:
    assert [layer.name for layer in read(tier + '[[layer]]\ngroup = "tier"\n').layers] == ["ring", "plate"]


def test_a_single_layer_repeats_too(base: str, read: Read) -> None:
    lamp = read(base + "repeat = 3\nstep = { turn = 5, thickness = -1, grain = 90 }\nfirst = { turn = 1 }\n")
    assert [layer.name for layer in lamp.layers] == ["base 1", "base 2", "base 3"]
    assert [layer.turn for layer in lamp.layers] == [1, 6, 11]
    assert [layer.thickness for layer in lamp.layers] == [9, 8, 7]
    assert [layer.grain for layer in lamp.layers] == [90, 180, 270]


def test_an_opening_that_follows_the_wall_steps_and_a_written_one_stays(base: str, read: Read) -> None:
    lamp = read(
        base + "wall = 14\nopening = { circle = 5, at = [54, 0] }\nrepeat = 2\nstep = { size = -4 }\n"
    )
    wall, hole = lamp.layers[1].openings
    assert (wall.outline.shape, wall.outline.grow, wall.main) == (Circle(120), -2 - 14, True)
    assert (hole.outline.shape, hole.outline.grow, hole.main) == (Circle(5), 0, False)


def test_separate_pieces_keep_their_size_and_move_with_the_step(head: str, read: Read) -> None:
    text = '[[layer]]\nname = "spacers"\nmaterial = "ply"\noutline = { circle = 6 }\n'
    text += "around = { count = 3, circle = 105 }\nrepeat = 2\nstep = { size = -4 }\n"
    layers = read(head + text).layers
    assert [layer.outline.grow for layer in layers] == [0, 0]
    assert [layer.around.circle for layer in layers if layer.around] == [105, 101]


def test_acrylic_keeps_the_thickness_of_its_sheet(tier: str, read: Read) -> None:
    lamp = read(tier + '[[layer]]\ngroup = "tier"\nrepeat = 2\nstep = { thickness = -1 }\n')
    assert [layer.thickness for layer in lamp.layers] == [9, 3.8, 8, 3.8]


def test_two_layers_of_one_name(base: str, fault: One) -> None:
    found = fault(base + base[base.index("[[layer]]") :])
    assert found.where == 'layer "base" · name'
    assert 'two layers are called "base": give each its own name' in found.what


def test_a_plain_layer_named_like_a_copy(tier: str, fault: One) -> None:
    found = fault(
        tier + '[[layer]]\ngroup = "tier"\nrepeat = 2\n'
        '[[layer]]\nname = "ring 2"\nmaterial = "ply"\noutline = { circle = 90 }\n'
    )
    assert 'two layers are called "ring 2"' in found.what


def test_an_unknown_group_gets_its_near_match(tier: str, fault: One) -> None:
    found = fault(tier + '[[layer]]\ngroup = "teir"\nrepeat = 2\n')
    assert found.where == 'layer 1 (group "teir") · group'
    assert 'no group "teir" under [[groups]]; did you mean "tier"?' in found.what


def test_zero_layers(head: str, fault: One) -> None:
    found = fault(head)
    assert found.where == "layer"
    assert "the lamp has no layers: begin with a [[layer]]" in found.what


def test_a_million_repeats_are_refused_at_once(base: str, fault: One) -> None:
    found = fault(base + "repeat = 1000000\n")
    assert found.where == 'layer "base" · repeat'
    assert "1000000 is outside its limits, 1 to 1000" in found.what


def test_layers_in_all_are_bounded(tier: str, fault: One) -> None:
    found = fault(tier + '[[layer]]\ngroup = "tier"\nrepeat = 1000\n' * 2)
    assert found.where == 'layer 2 (group "tier")'
    assert "brings the lamp to 4000 layers; a lamp has at most 2000: fewer copies" in found.what


@pytest.mark.parametrize(
    ("step", "where", "says"),
    [
        ("{ size = -4 }", 'layer "base 31" · step · size', "leaves 0 mm across"),
        ("{ thickness = -1 }", 'layer "base 10" · step · thickness', "leaves 0 mm, not 0.01 mm to 5000 mm"),
    ],
)
def test_a_step_that_eats_the_layer_names_the_copy(
    base: str, fault: One, step: str, where: str, says: str
) -> None:
    found = fault(base + f"repeat = 40\nstep = {step}\n")
    assert found.where == where
    assert says in found.what
    assert "a smaller step, or fewer copies" in found.what


def test_openings_in_all_are_bounded(base: str, fault: One) -> None:
    found = fault(base + "repeat = 30\nopening = { circle = 0.1, around = { count = 1000, circle = 90 } }\n")
    assert found.where == 'layer "base"'
    assert "30000 openings and recesses; a lamp has at most 20000" in found.what


def test_entries_are_bounded(base: str, fault: One) -> None:
    found = fault(base + '[[eye]]\nname = "a"\ndistance = 500\nheight = 2\n' * 101)
    assert found.where == "eye"
    assert "has 101 entries; at most 100" in found.what


def test_what_is_no_lamps_file_at_all_is_cut_short(faults: Callable[[str], tuple[Fault, ...]]) -> None:
    found = faults("".join(f"key{index} = 1\n" for index in range(60000)))
    assert len(found) <= 202
    assert "is it a lamp's file?" in found[0].what
