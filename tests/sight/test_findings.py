"""Findings from the sightlines: graver for what is barer, counted, and past which edges."""

import pytest

from stackview.description.lamp import Eye
from stackview.findings import Level
from stackview.sight.causes import Cause
from stackview.sight.findings import past, shown_findings
from tests.drawings.drawn import studied
from tests.lamps import box, light_points

BASE, LID = box("base", (-50, -50, 0), (50, 50, 10)), box("lid", (-50, -50, 50), (50, 50, 60))
EYES = (Eye("level", 1000.0, 30.0), Eye("far above", 100.0, 5000.0))
TWO = light_points([(-10, 0, 25), (10, 0, 25)], [(0, -1, 0), (0, -1, 0)])
WIDE = ((-2000, -5, 10), (2000, -4, 50))


def found(*parts, points=TWO):  # type: ignore[no-untyped-def]
    lines, _ = studied(parts, points, eyes=EYES)
    return shown_findings(lines)


def test_bare_points_are_a_caution_to_the_eye_that_sees_them_alone() -> None:
    (bare,) = found(BASE, LID)
    assert (bare.check, bare.level, bare.where) == ("bare light", Level.CAUTION, 'eye "level"')
    assert (bare.value, bare.limit) == (2.0, 0.0)
    assert bare.what.startswith("up to 2 of 2 light points show straight through air, most from bearing")
    # (30 − 25) mm and more up, a metre away: less than half a degree.
    assert "0." in bare.what.split("at ")[-1]


@pytest.mark.parametrize(
    ("body", "check", "through"),
    [("clear", "glazed light", "through clear acrylic"), ("opal", "veiled light", "behind sanded or opal")],
)
def test_behind_acrylic_it_is_a_note_without_a_mend(body, check: str, through: str) -> None:  # type: ignore[no-untyped-def]
    (note,) = found(BASE, LID, box("pane", *WIDE, body))
    assert (note.check, note.level, note.advice) == (check, Level.NOTE, "")
    assert through in note.what


def test_one_point_is_said_as_one() -> None:
    (bare,) = found(BASE, LID, points=light_points([(0, 0, 25)], [(0, -1, 0)]))
    assert bare.what.startswith("its light point shows straight through air, from bearing")


def test_a_point_inside_a_part_is_a_fault() -> None:
    (buried,) = found(BASE, LID, box("block", (-40, -40, 15), (40, 40, 35)))
    assert (buried.check, buried.level, buried.where, buried.value) == (
        "buried light",
        Level.FAULT,
        "block",
        2.0,
    )
    assert buried.what == "2 light points sit inside it"


def test_it_says_past_which_edges_they_show_and_no_number_that_was_not_tried() -> None:
    assert past((Cause("rim", 1),)) == "It shows past rim."
    both = past((Cause("rim", 3), Cause("eave", 1)))
    assert both == "They show past rim (3); eave (1)."
    assert past(()) == ""
