"""Where ways lead: the numbers of a file that make a cut or an edge larger, whichever way the file says it."""

from math import cos, pi

import pytest

from stackview.change.handles import handles_of
from stackview.curves.arcs import Path, bounds
from stackview.description.lamp import Layer
from stackview.description.lamp_file import LampFile
from stackview.description.outline import path_of
from stackview.findings import Way
from stackview.study import Study

MANY = """
name = "Many"
cutter = 3
[materials]
ply = { plywood = "birch", sold = 9 }
opal = { acrylic = "opal", sold = 4 }
[outlines]
plate = { rectangle = [80, 60] }
smaller = { like = "plate", inset = 2 }
same = { like = "plate" }
[[layer]]
name = "walled"
material = "ply"
outline = { circle = 200 }
wall = 20
opening = { circle = 4, at = [0, 88] }
chamfer = [
  { edge = ["top outer", "underside outer"], width = 1 },
  { edge = "top opening", width = 2 },
]
recess = [
  { depth = 1 },
  { depth = 2, outline = { circle = 5 }, around = { count = 3, circle = 190 } },
  { depth = 3, outline = { circle = 6, at = [0, -95] } },
]
[[layer]]
name = "plate"
material = "opal"
outline = { sides = 6, across_corners = 170 }
opening = [{ rectangle = [30, 20] }, { circle = 5, at = [40, 0] }]
[[layer]]
name = "lid"
material = "ply"
outline = "smaller"
[[layer]]
name = "other lid"
material = "ply"
outline = "same"
[[layer]]
name = "pinned"
material = "ply"
outline = { circle = 60 }
opening = { circle = 4, around = { count = 3, circle = 40 } }
[[light]]
name = "low"
diode = { height = 3 }
watts = 1
milliamps = 350
lumens = 100
"""


@pytest.fixture(scope="module")
def many() -> Study:
    return Study(LampFile.from_text(MANY))


def paths(study: Study, *ways: Way) -> dict[str, float]:
    return {handle.path: handle.by for handle in handles_of(study, ways)}


@pytest.mark.parametrize(
    ("part", "key", "wanted"),
    [
        ("walled", "size of opening 0", {"layer.walled.wall": -1.0}),
        ("walled", "size of opening 1", {"layer.walled.opening.circle": 2.0}),
        ("walled", "size of outline", {"layer.walled.outline.circle": 2.0}),
        ("walled", "width of chamfer 1", {"layer.walled.chamfer.0.width": 1.0}),
        ("walled", "width of chamfer 2", {"layer.walled.chamfer.1.width": 1.0}),
        # those with an outline come first, copies each, then the fitted one
        ("walled", "size of recess 2", {"layer.walled.recess.1.outline.circle": 2.0}),
        ("walled", "depth of recess 3", {"layer.walled.recess.2.depth": 1.0}),
        ("walled", "clearance of recess 4", {"layer.walled.recess.0.clearance": 1.0}),
        ("walled", "size of recess 4", {"layer.plate.outline.across_corners": 2.0 / cos(pi / 6)}),
        (
            "plate",
            "size of opening 0",
            {"layer.plate.opening.0.rectangle.0": 2.0, "layer.plate.opening.0.rectangle.1": 2.0},
        ),
        ("pinned", "circle of opening 0", {"layer.pinned.opening.around.circle": 2.0}),
        ("plate", "size of opening 1", {"layer.plate.opening.1.circle": 2.0}),
        ("plate", "corner of outline", {"layer.plate.outline.corner_radius": 1.0}),
        ("lid", "size of outline", {"outlines.smaller.inset": -1.0}),
        ("other lid", "corner of outline", {"outlines.plate.corner_radius": 1.0}),
        ("walled", "size of opening 2", {}),
        ("plate", "size of recess 0", {}),
    ],
)
def test_numbers_that_a_way_leads_to(many: Study, part: str, key: str, wanted: dict[str, float]) -> None:
    assert paths(many, Way(part, key, 0.0, 1.0)) == wanted


def test_an_outline_moves_all_layers_that_name_it(many: Study) -> None:
    handles = handles_of(many, [Way("other lid", "size of outline", 0.0, 1.0)])
    assert [(one.path, one.by) for one in handles] == [
        ("outlines.plate.rectangle.0", 2.0),
        ("outlines.plate.rectangle.1", 2.0),
    ]
    assert set(handles[0].layers) >= {"other lid"}


def test_ways_of_several_parts_go_together_or_not_at_all(many: Study) -> None:
    key = "size of outline"
    both = paths(many, Way("walled", key, 0.0, 1.0), Way("lid", key, 0.0, 2.0), Way("lid", key, 0.0, 1.0))
    assert both == {"layer.walled.outline.circle": 2.0, "outlines.smaller.inset": -2.0}
    assert paths(many, Way("walled", key, 0.0, 1.0), Way("core", key, 0.0, 1.0)) == {}


def test_power_goes_with_current_and_light(many: Study) -> None:
    handles = handles_of(many, [Way("light.low", "power", 1.0, 0.55, is_length=False, stepped=True)])
    assert {one.path: one.at(1.0).typed for one in handles} == {
        "light.low.watts": 0.5,
        "light.low.milliamps": 190,
        "light.low.lumens": 50,
    }


@pytest.mark.parametrize(
    ("part", "key"),
    [
        ("walled", "size of opening 0"),
        ("walled", "size of opening 1"),
        ("walled", "size of outline"),
        ("walled", "size of recess 0"),
        ("walled", "size of recess 4"),
        ("plate", "size of opening 0"),
        ("lid", "size of outline"),
        ("other lid", "size of outline"),
    ],
)
def test_an_edge_moves_by_as_much_as_the_way_goes(many: Study, part: str, key: str) -> None:
    by = -0.5
    handles = handles_of(many, [Way(part, key, 0.0, by)])
    lamp = many.changed({one.path: one.at(1.0).typed for one in handles}).lamp
    before, after = (next(layer for layer in one.layers if layer.name == part) for one in (many.lamp, lamp))
    assert bounds(_curve(after, key))[2] - bounds(_curve(before, key))[2] == pytest.approx(by, abs=0.1)


def _curve(layer: Layer, key: str) -> Path:
    if key.endswith("outline"):
        return path_of(layer.outline)
    number = int(key[-1])
    return path_of((layer.openings if "opening" in key else layer.recesses)[number].outline)
