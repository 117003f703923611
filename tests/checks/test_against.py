"""A finding that is held against a limit says its value, its limit and both sources."""

from stackview.checks.against import against
from stackview.checks.limits import limits_for
from stackview.description.lamp import Lamp
from stackview.findings import Bound, Level

FLOOR = limits_for(Lamp("x", "mm", ()))["floor"]


def test_value_and_limit() -> None:
    found = against(FLOOR, 1.2, "walls", "thin")
    assert (found.check, found.level, found.value, found.unit) == ("walls", Level.CAUTION, 1.2, "mm")
    assert (found.limit, found.bound, found.source) == (FLOOR.value, Bound.LEAST, FLOOR.source)


def test_how_it_was_found_and_what_it_is_held_to() -> None:
    found = against(FLOOR, 1.2, "walls", "thin", by="plane geometry", held_to=1.5, level=Level.FACT)
    assert found.source == f"plane geometry; {FLOOR.source}"
    assert (found.limit, found.level) == (1.5, Level.FACT)
