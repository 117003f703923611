"""Lamps with no flaw: every check has notes to give and no alarm to raise."""

import pytest

from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.subject import run_checks
from stackview.description.starter import starter_text
from stackview.findings import Level
from tests.checks.written import SOUND, changed, subject


@pytest.mark.parametrize("text", [SOUND, starter_text()], ids=["sound", "starter"])
def test_no_alarm(text: str) -> None:
    found = [one for one in run_checks(subject(text), ALL_CHECKS) if one.level >= Level.CAUTION]
    # what shows to an eye depends on where one looks from, not on how the lamp is made
    assert [one for one in found if one.check != "bare light"] == []


ODD = {
    "one layer": 'name = "x"\nmaterials.a = { metal = "brass" }\nlayer = [{ name = "a", material = "a", thickness = 2, '
    "outline = { circle = 50 } }]\n",
    "acrylic alone": 'name = "x"\nmaterials.a = { acrylic = "opal", sold = 3 }\n'
    'layer = [{ name = "a", material = "a", outline = { sides = 5, across_flats = 50 } }]\n'
    "light = [{ panel = { columns = 2, rows = 2 }, watts = 0.2, milliamps = 20 }]\n",
    "no cord": 'name = "x"\npendant = { underside = 1500 }\nmaterials.a = { wood = "ash", sold = 12 }\n'
    'layer = [{ name = "a", material = "a", outline = { circle = 150 } }]\n'
    'light = [{ diode = { facing = "down" }, watts = 3 }]\n',
    "own wood": 'name = "x"\nmaterials.a = { wood = "holly", sold = 12, density = 600, colour = "#eeeeee" }\n'
    'layer = [{ name = "a", material = "a", outline = { circle = 150 } }, { name = "b", material = "a", '
    "outline = { circle = 150 } }]\n",
}


@pytest.mark.parametrize("text", ODD.values(), ids=ODD)
def test_odd_lamps_can_be_checked(text: str) -> None:
    for check in ALL_CHECKS:
        for finding in check.run(subject(text)):
            assert finding.where
            assert finding.what
            assert not finding.what.endswith(".")


def test_a_lamp_twice_as_large_moves_twice_as_far() -> None:
    solid = ('ply = { plywood = "birch"', 'ply = { wood = "red oak"')
    small, large = changed(solid), subject(_doubled(SOUND.replace(*solid)))
    by = [
        max(
            one.value or 0.0
            for one in run_checks(lamp, ALL_CHECKS)
            if one.check == "movement" and one.level == Level.CAUTION
        )
        for lamp in (small, large)
    ]
    assert by[1] == pytest.approx(2.0 * by[0], rel=0.02)


def _doubled(text: str) -> str:
    """Outlines, walls and recesses at twice the size; the same sheets."""
    for old, new in (
        ("circle = 120", "circle = 240"), ("wall = 14", "wall = 28"), ("circle = 104", "circle = 208"),
    ):  # fmt: skip
        text = text.replace(old, new)
    return text


def test_a_check_does_not_change_its_subject() -> None:
    lamp = subject()
    before = [part.solid.vertices.copy() for part in lamp.stack.placed]
    first = run_checks(lamp, ALL_CHECKS)
    assert run_checks(lamp, ALL_CHECKS) == first
    for was, part in zip(before, lamp.stack.placed, strict=True):
        assert (was == part.solid.vertices).all()
