"""What a part does to light."""

from dataclasses import replace

import pytest

from stackview.description.material import Finish
from stackview.stack.placed import Role
from tests.lamps import box
from tests.stills import lamps


@pytest.mark.parametrize(
    ("material", "finish", "sort", "level"),
    [
        (lamps.CLEAR, Finish(), "clear", "clear"),
        (lamps.CLEAR, Finish(top="sanded"), "sanded", "sanded"),
        (lamps.CLEAR, Finish(edge="sanded"), "sanded", "clear"),
        (lamps.OPAL, Finish(top="sanded"), "opal", "opal"),
        (lamps.WALNUT, Finish(), "opaque", "opaque"),
    ],
)
def test_sort_of_a_part(material, finish, sort, level) -> None:  # type: ignore[no-untyped-def]
    part = lamps.part("plate", lamps.prism([lamps.circle(30)], 0, 4), material, finish=finish)
    assert (part.sort, part.level_sort, part.opaque) == (sort, level, sort == "opaque")


@pytest.mark.parametrize(("body", "opaque"), [("opaque", True), ("clear", False), ("opal", False)])
def test_only_acrylic_lets_light_through(body, opaque: bool) -> None:  # type: ignore[no-untyped-def]
    assert box("part", (0, 0, 0), (1, 1, 1), body).opaque is opaque


def test_a_part_stands_where_its_solid_stands() -> None:
    part = box("part", (-1, -2, 3), (4, 5, 7))
    assert (part.underside, part.top) == (3.0, 7.0)
    assert part.solid.vertices[:, 2].min() == part.underside
    assert part.solid.vertices[:, 2].max() == part.top


def test_a_part_is_itself_alone() -> None:
    one, other = box("part", (0, 0, 0), (1, 1, 1)), box("part", (0, 0, 0), (1, 1, 1))
    assert one != other
    assert len({one, other}) == 2


@pytest.mark.parametrize(
    ("role", "passes", "jointed", "whole"),
    [
        ("layer", False, True, False),
        ("core", True, True, True),
        ("post", True, False, False),
        ("foot", False, False, False),
        ("cord", True, False, True),
    ],
)
def test_a_part_says_what_it_is(role: Role, passes: bool, jointed: bool, whole: bool) -> None:
    part = replace(box("part", (0, 0, 0), (1, 1, 1)), role=role)
    said = (part.is_layer, part.is_core, part.is_post, part.is_foot, part.is_cord)
    assert said == tuple(role == each for each in ("layer", "core", "post", "foot", "cord"))
    assert part.is_upright is (role in ("core", "post"))
    assert (part.passes_openings, part.is_jointed, part.stays_whole) == (passes, jointed, whole)
