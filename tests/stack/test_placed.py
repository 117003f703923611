"""What a part does to light."""

import pytest

from stackview.description.material import Finish
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
