"""What a part does to light."""

import pytest

from stackview.description.material import Finish
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
