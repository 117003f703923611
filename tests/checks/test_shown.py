"""What shows, as a check: the same findings as the sightlines', each under the check's own words."""

from types import SimpleNamespace

import pytest

from stackview.checks.shown import CHECK, points_shown
from stackview.description.lamp import Eye
from stackview.findings import Level
from stackview.sight.findings import shown_findings
from tests.drawings.drawn import studied
from tests.lamps import box, light_points

LEVEL = Eye("level", 1000.0, 25.0)


def subject(*parts, unit: str = "mm"):  # type: ignore[no-untyped-def]
    lines, stack = studied(parts, light_points([(0, 0, 25)], [(0, -1, 0)]), eyes=(LEVEL,), unit=unit)
    return SimpleNamespace(sightlines=lines, lamp=stack.lamp)


BASE, LID = box("base", (-50, -50, 0), (50, 50, 10)), box("lid", (-50, -50, 50), (50, 50, 60))
SLAB = ((-2000, -5, 10), (2000, -4, 50))


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_it_says_what_the_sightlines_say(unit: str) -> None:
    given = subject(BASE, LID, unit=unit)
    assert points_shown(given) == shown_findings(given.sightlines)


def test_a_bare_point_is_a_caution_with_a_mend() -> None:
    (found,) = points_shown(subject(BASE, LID))
    assert (found.check, found.level, found.value) == (CHECK.name, Level.CAUTION, 1.0)
    assert found.advice.startswith("It shows past ")


@pytest.mark.parametrize(("body", "check"), [("clear", "glazed light"), ("opal", "veiled light")])
def test_behind_acrylic_it_is_a_note(body, check: str) -> None:  # type: ignore[no-untyped-def]
    (found,) = points_shown(subject(BASE, LID, box("pane", *SLAB, body)))
    assert (found.check, found.level, found.advice) == (check, Level.NOTE, "")


def test_behind_wood_it_is_silence_and_inside_it_a_fault() -> None:
    assert points_shown(subject(BASE, LID, box("board", *SLAB))) == ()
    (found,) = points_shown(subject(BASE, LID, box("block", (-40, -40, 15), (40, 40, 35))))
    assert (found.check, found.level, found.where) == ("buried light", Level.FAULT, "block")
