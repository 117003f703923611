import math
from collections.abc import Callable
from pathlib import Path

import pytest

from stackview.description.lamp import Lamp
from stackview.description.outline import Outline
from stackview.description.reading import read_text
from stackview.description.shapes import Circle, Curve, Rectangle, Regular
from stackview.errors import Fault, LampError

Read = Callable[[str], Lamp]
One = Callable[[str], Fault]


def shaped(base: str, outline: str) -> str:
    return base.replace("{ circle = 120 }", outline)


@pytest.mark.parametrize(
    ("written", "outline"),
    [
        ('{ circle = "5-1/2 in" }', Outline(Circle(139.7))),
        (
            "{ rectangle = [150, 90], corner_radius = 12, turn = 30, at = [1, 2] }",
            Outline(Rectangle(150, 90, 12), turn=30, at=(1, 2)),
        ),
        ("{ sides = 8, across_flats = 100, corner_radius = 3 }", Outline(Regular(8, 100, 3))),
        ("{ circle = 100, inset = 8 }", Outline(Circle(100), grow=-8)),
    ],
)
def test_shapes(base: str, read: Read, written: str, outline: Outline) -> None:
    assert read(shaped(base, written)).layers[0].outline == outline


def test_across_corners_is_the_circumscribed_circle(base: str, read: Read) -> None:
    shape = read(shaped(base, "{ sides = 6, across_corners = 100 }")).layers[0].outline.shape
    assert isinstance(shape, Regular)
    assert shape.across_flats == pytest.approx(100 * math.sqrt(3) / 2, rel=1e-15)


def test_named_outlines_may_be_like_one_another_in_any_order(base: str, read: Read) -> None:
    named = '[outlines]\nplate = { like = "body", inset = 8 }\nbody = { rectangle = [150, 90], turn = 10 }\n'
    lamp = read(shaped(base, '"plate"') + named)
    assert lamp.layers[0].outline == Outline(Rectangle(150, 90), grow=-8, turn=10)


@pytest.mark.parametrize(
    ("written", "field", "says"),
    [
        ("{}", "", "no shape is given: give exactly one of circle, rectangle, sides, curve, like"),
        ("{ circle = 3, rectangle = [3, 4] }", "", "circle and rectangle are given: give exactly one"),
        ("{ sides = 6 }", "", "none is given: give across_flats or across_corners"),
        ("{ sides = 6, across_flats = 3, across_corners = 4 }", "", "both are given: give across_flats or"),
        ("{ circle = 30, across_flats = 20 }", " · across_flats", "goes with sides, but this is a circle"),
        ("{ circle = 30, corner_radius = 2 }", " · corner_radius", "goes with rectangle or sides"),
        ('{ circle = 30, unit = "mm" }', " · unit", "goes with curve, but this is a circle: leave it out"),
        (
            "{ rectangle = [30, 20], corner_radius = 11 }",
            " · corner_radius",
            "11 mm is larger than the shape takes: at most 10 mm",
        ),
        (
            "{ rectangle = [95.2, 0.01], corner_radius = 6.4 }",
            " · corner_radius",
            "6.4 mm is larger than the shape takes: it is too thin for any; leave it out",
        ),
        (
            "{ rectangle = [30] }",
            " · rectangle",
            "should be 2 lengths in brackets, left to right, then front to back",
        ),
        ("{ sides = 2, across_flats = 20 }", " · sides", "2 is outside its limits, 3 to 100"),
        ("{ sides = 6.5, across_flats = 20 }", " · sides", "6.5 is not a whole number"),
        ("{ circle = 30, inset = 15 }", " · inset", "15 mm leaves nothing: make it at most 14.99 mm"),
        ("{ circle = 0.01, inset = 0.02 }", " · inset", "0.02 mm leaves nothing: leave it out"),
        ('"bodyy"', "", 'no outline "bodyy" under [outlines]; there are none yet'),
        ('{ like = "b" }', " · like", 'no outline "b" under [outlines]'),
        ('{ curve = "leaf.svg" }', " · unit", 'the curve "leaf.svg" has no unit: add unit = "mm"'),
        (
            "7",
            "",
            "7 cannot be read here: write the name of an outline in quotes, or a shape such as",
        ),
    ],
)
def test_faults(base: str, fault: One, written: str, field: str, says: str) -> None:
    found = fault(shaped(base, written))
    assert found.where == f'layer "base" · outline{field}'
    assert says in found.what


def test_outlines_like_each_other_in_a_round(base: str, fault: One) -> None:
    found = fault(base + '[outlines]\na = { like = "b" }\nb = { like = "a" }\n')
    assert "is like itself, by a round" in found.what


def test_a_long_row_of_likenesses_is_no_endless_work(
    base: str, faults: Callable[[str], tuple[Fault, ...]]
) -> None:
    rows = "".join(f'a{i} = {{ like = "a{i + 1}" }}\n' for i in range(3000))
    assert faults(base + "[outlines]\n" + rows)


LEAF = '<svg xmlns="http://www.w3.org/2000/svg">{}</svg>'
CURVE = '{{ curve = "{}", unit = "mm" }}'


def test_a_curve_beside_the_lamps_file(base: str, read: Read, tmp_path: Path) -> None:
    (tmp_path / "leaf.svg").write_text(LEAF.format('<circle r="60"/>'))
    shape = read(shaped(base, CURVE.format("leaf.svg"))).layers[0].outline.shape
    assert isinstance(shape, Curve)
    assert shape.source == "leaf.svg"


@pytest.mark.parametrize("written", ["../leaf.svg", "link.svg", "/etc/leaf.svg", "linked/leaf.svg"])
def test_a_curve_outside_the_lamps_folder(base: str, tmp_path: Path, written: str) -> None:
    folder = tmp_path / "lamp"
    folder.mkdir()
    (tmp_path / "leaf.svg").write_text(LEAF.format('<circle r="60"/>'))
    (folder / "link.svg").symlink_to(tmp_path / "leaf.svg")
    (folder / "linked").symlink_to(tmp_path)
    text = shaped(base, CURVE.format(written))
    with pytest.raises(LampError) as caught:
        read_text(text, "lamp.toml", folder)
    (found,) = caught.value.faults
    assert found.where == 'layer "base" · outline · curve'
    assert f'"{written}": lies outside the lamp\'s folder' in found.what
    assert "copy it beside the lamp's file" in found.what
    if not written.startswith("/"):
        assert read_text(text, "lamp.toml", folder, allow_outside=True).layers


@pytest.mark.parametrize(
    ("inner", "says"),
    [
        ('<path d="M0 0L40 40L40 0L0 40Z"/>', "crosses or touches itself near x 20.00, y 20.00"),
        ('<path d="M0 0L40 40L40 0"/>', "is not closed: its ends are 40 mm apart"),
        ("", "holds no closed curve"),
    ],
)
def test_curves_that_cannot_be_cut(base: str, fault: One, tmp_path: Path, inner: str, says: str) -> None:
    (tmp_path / "leaf.svg").write_text(LEAF.format(inner))
    found = fault(shaped(base, CURVE.format("leaf.svg")))
    assert found.where == 'layer "base" · outline · curve'
    assert found.what.startswith('"leaf.svg": ')
    assert says in found.what


def test_a_bad_file_used_many_times_is_said_once(base: str, fault: One) -> None:
    lid = '[[layer]]\nname = "lid"\nmaterial = "ply"\noutline = "leaf"\n'
    found = fault(shaped(base, '"leaf"') + lid + '[outlines]\nleaf = { curve = "none.svg", unit = "mm" }\n')
    assert found.where == 'outline "leaf" · curve'
    assert "there is no such file" in found.what
