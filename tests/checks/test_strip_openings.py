"""Openings that core, tape and strip pass, or do not: circles and boxes by hand."""

import pytest

from stackview.checks.strip import CHECK
from stackview.findings import Level
from tests.checks.written import alarms, changed


def test_the_strip_does_not_pass_an_opening_that_the_core_alone_does() -> None:
    (fault,) = alarms(CHECK, changed(("opening = { circle = 46 }", "opening = { circle = 42 }")))
    # radius 20 and 2 of strip against 21
    assert fault.level == Level.FAULT
    assert fault.value == pytest.approx(1.0)
    assert fault.where == "plate 1, plate 2 and plate 3"
    # 1 per side, and the 0.05 of play that it needs; or the core as much thinner
    assert [(way.part, way.key, way.guess) for way in fault.ways] == [
        *((f"plate {number}", "size of opening 0", pytest.approx(1.05)) for number in (1, 2, 3)),
        ("core", "size of outline", pytest.approx(-1.05)),
    ]


@pytest.mark.parametrize(("hole", "alarm"), [(46, False), (44.1, False), (44.08, True), (44, True)])
def test_a_strip_needs_play_in_the_opening(hole: float, alarm: bool) -> None:
    # radius 20 and 2 of strip; 0.05 of play is asked for
    found = alarms(CHECK, changed(("opening = { circle = 46 }", f"opening = {{ circle = {hole} }}")))
    assert bool(found) is alarm
    for one in found:
        assert (one.level, one.value, one.limit) == (Level.CAUTION, pytest.approx(hole / 2 - 22.0), 0.05)


def test_runs_pass_by_their_corners() -> None:
    runs = ("helix = { pitch = 12 }", "runs = { count = 6 }")
    core = ("outline = { circle = 40 }\nwall = 2", "outline = { sides = 6, across_flats = 40 }\nwall = 2")
    # corners of a box 8 wide on a flat 20 out, 2 thick: √(22² + 4²) = 22.36; the core's own: 23.09
    (fault,) = alarms(
        CHECK,
        changed(runs, core, ("opening = { circle = 46 }", "opening = { sides = 6, across_flats = 43 }")),
    )
    assert fault.value == pytest.approx(0.5)
