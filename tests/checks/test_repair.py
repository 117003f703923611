"""Where a lamp opens, and whether its lights come out there: fine, bad, and at the limit."""

import pytest

from stackview.checks.repair import glued_past, repair
from stackview.findings import Finding, Level
from stackview.study import Study
from tests.checks.written import SOUND, changed, exchanged, subject


def told(of: Study) -> list[Finding]:
    return list(repair(of))


def test_can_a_dead_strip_be_replaced() -> None:
    (asked,) = told(changed(('[glue]\nloose = ["cap"]\n', "")))
    assert (asked.check, asked.level) == ("repair", Level.NOTE)
    (glued,) = told(changed(('loose = ["cap"]', "loose = []")))
    assert (glued.check, glued.level) == ("repair", Level.CAUTION)
    assert told(changed(('loose = ["cap"]', 'loose = ["base"]'))) == []


def test_a_lid_that_lifts_off_above_a_closed_plate_does_not_help() -> None:
    cap = '[[layer]]\nname = "cap"'
    shelf = '[[layer]]\nname = "shelf"\nmaterial = "ply"\noutline = { circle = 120 }\n'
    closed = (cap, shelf + cap)
    (found,) = told(changed(closed))
    assert (found.check, found.level) == ("repair", Level.CAUTION)
    assert "does not come out" in found.what


def test_a_loose_plate_that_the_rings_are_glued_past() -> None:
    # a plate no thicker than its recess is deep: ring 2 lies on ring 1, and is glued to it
    flush = ("recess = { depth = 1.5 }", "recess = { depth = 3.8 }")
    loose = ('loose = ["cap"]', 'loose = ["plate 1"]')
    lamp = changed(flush, loose)
    assert glued_past(lamp, "plate 1") == ("ring 2", "ring 1")
    (found,) = told(lamp)
    assert (found.level, found.where) == (Level.CAUTION, "plate 1")
    assert "ring 2 is glued to ring 1 past it" in found.what
    # proud by 2.3 it keeps the rings apart
    assert glued_past(changed(loose), "plate 1") is None


def test_a_core_glued_at_both_ends_holds_the_lamp_shut() -> None:
    # as high as the space: it touches the cap
    high = subject()
    room = high.stack.part("cap").underside - high.stack.part("base").top
    lamp = changed(("height = 33", f"height = {room!r}"), ('loose = ["cap"]', 'loose = ["ring 2"]'))
    pair = glued_past(lamp, "ring 2")
    assert pair is not None
    assert "core" in pair or "cap" in pair
    assert glued_past(changed(('loose = ["cap"]', 'loose = ["ring 2"]')), "ring 2") is None


DIODE = exchanged(
    SOUND,
    (SOUND[SOUND.index("[core]") : SOUND.index("[glue]")],
     '[[light]]\ndiode = { on = "base", at = [12, 0] }\nwatts = 1\nface = [4, 4]\n'),
)  # fmt: skip


@pytest.mark.parametrize(
    ("hole", "loose", "alarm"),
    [
        (46, "cap", False),
        # corners of a face of 4 about x 12: √(14² + 2²) = 14.142 from the axis
        (28.29, "cap", False),
        (28.28, "cap", True),
        (4, "cap", True),
        (4, "base", False),
        (4, "plate 3", True),
        (46, "plate 3", False),
    ],
)
def test_a_diode_on_the_base_comes_out_upwards_or_with_its_base(hole: float, loose: str, alarm: bool) -> None:
    text = exchanged(DIODE, ("circle = 46", f"circle = {hole}"), ('loose = ["cap"]', f'loose = ["{loose}"]'))
    found = told(subject(text))
    assert bool(found) is alarm
    for one in found:
        assert 'light "diode" does not come out' in one.what
        assert one.parts == ("base",)


@pytest.mark.parametrize(("loose", "alarm"), [("cap", False), ("base", False)])
def test_a_diode_under_the_lid_comes_out_with_it_or_downwards(loose: str, alarm: bool) -> None:
    text = exchanged(
        DIODE, ('on = "base"', 'on = "cap", facing = "down"'), ('loose = ["cap"]', f'loose = ["{loose}"]')
    )
    assert bool(told(subject(text))) is alarm


def test_a_diode_on_top_of_a_closed_layer_does_not_come_out_below_it() -> None:
    low = ('[[layer]]\nname = "base"', '[[layer]]\nname = "tray"\nmaterial = "ply"\noutline = { circle = 120 }\n'
           '[[layer]]\nname = "base"')  # fmt: skip
    text = exchanged(DIODE, low, ('loose = ["cap"]', 'loose = ["tray"]'), ("opening = { circle = 8 }\n", ""))
    (found,) = told(subject(text))
    assert "does not come out" in found.what
