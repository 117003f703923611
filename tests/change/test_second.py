"""A mend that lets in bare light, with numbers that keep it hidden."""

import pytest

from stackview.change.mend import Mend, NewNumber
from stackview.change.second import with_light_hidden
from stackview.change.trial import Bench
from stackview.description.lamp_file import LampFile
from stackview.study import Study
from tests.change.demos import study

DIODE = NewNumber("light.diode.diode.height", "3 mm", "5 mm", 5.0)
RING = NewNumber("groups.open-tier.ring.thickness", "9.9 mm", "12 mm", 12.0)


def dark() -> Study:
    """The drum with its rings thick enough: nothing bare shows, and nothing else is wrong."""
    return study("moor-drum").changed({"groups.open-tier.ring.thickness": 9.9})


def opening(source: Study) -> Mend:
    """A higher diode, as if that cleared something: it shows over the lower ring."""
    variant = Bench(source, 1).changed({DIODE.path: DIODE.typed})
    assert variant is not None
    new = variant.brought(source.findings)
    assert [each.check for each in new] == ["bare light"]
    return Mend((DIODE,), "clears it", 0.0, 0.0, new)


def test_a_known_mend_of_the_light_is_taken_along() -> None:
    source = dark()
    both = with_light_hidden(source, opening(source), (Mend((RING,), "hides it", 4.2, 0.0),))
    assert both is not None
    assert both.changes == {DIODE.path: 5.0, RING.path: 12.0}
    # two rings, each 2.1 mm thicker
    assert both.height == pytest.approx(2 * 2.1)
    assert both.does == "clears it, and its light stays hidden"
    assert both.new == ()
    assert all(each.check != "bare light" for each in source.changed(both.changes).findings)


BOWL = """
name = "Bowl"
materials.ply = { plywood = "birch", sold = 9 }
layer = [
    { name = "base", material = "ply", outline = { circle = 120 } },
    { name = "ring", material = "ply", outline = { circle = 120 }, wall = 14, thickness = 30 },
]
light = [{ ring = { diameter = 60, count = 4, height = 3, facing = "up" } }]
eye = [{ name = "e", distance = 500, height = 840 }]
"""


def test_light_points_that_come_with_it_are_told() -> None:
    source = Study(LampFile.from_text(BOWL), bearings=72)
    assert all(each.check != "bare light" for each in source.findings)
    numbers = (
        NewNumber("light.ring.ring.count", "4", "6", 6),
        NewNumber("light.ring.ring.height", "3 mm", "20 mm", 20.0),
    )
    variant = Bench(source, 1, as_it_stands=False).changed({each.path: each.typed for each in numbers})
    assert variant is not None
    mend = Mend(numbers, "clears it", 0.0, 0.0, variant.brought(source.findings), points=2)
    higher = NewNumber("layer.ring.thickness", "30 mm", "50 mm", 50.0)
    both = with_light_hidden(source, mend, (Mend((higher,), "hides it", 20.0, 0.0),))
    assert both is not None
    assert both.points == 2
    assert "2 light points more" in both.text(source.lamp.units)


@pytest.mark.slow
def test_else_it_is_looked_for_on_the_lamp_as_mended() -> None:
    source = dark()
    both = with_light_hidden(source, opening(source))
    assert both is not None
    assert len(both.numbers) == 2
    assert all(each.check != "bare light" for each in source.changed(both.changes).findings)
