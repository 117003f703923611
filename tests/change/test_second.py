"""A mend that lets in bare light, with numbers that keep it hidden."""

import pytest

from stackview.change.mend import Mend, NewNumber
from stackview.change.second import with_light_hidden
from stackview.change.trial import Bench
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


@pytest.mark.slow
def test_else_it_is_looked_for_on_the_lamp_as_mended() -> None:
    source = dark()
    both = with_light_hidden(source, opening(source))
    assert both is not None
    assert len(both.numbers) == 2
    assert all(each.check != "bare light" for each in source.changed(both.changes).findings)
