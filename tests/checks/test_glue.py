from math import pi

import pytest

from stackview.checks.glue import CHECK, glue, laid
from stackview.description.lamp_file import LampFile
from stackview.findings import Level
from stackview.stack.joints import joints
from stackview.study import Study
from tests.checks.written import alarms, changed, subject

GROOVED = (
    (
        "wall = 14\nrecess = { depth = 1.5 }",
        'wall = 14\nrecess = { depth = 1.5 }\ngroove = { along = "recess" }',
    ),
)


def test_a_sound_lamp_raises_no_alarm() -> None:
    assert alarms(CHECK, subject()) == []


def test_glue_by_hand_for_one_plate() -> None:
    (note,) = [one for one in glue(subject()) if one.where.startswith("plate 1 on ring 1")]
    # 104 over 92: π/4·(104² − 92²) mm² × 0.3 mm × 1.3 each, three in recesses and two rings on plates
    each = pi / 4.0 * (104.0**2 - 92.0**2) * 0.3 * 1.3 / 1000.0
    assert note.value == pytest.approx(5.0 * each, rel=2e-3)
    assert note.unit == "ml"
    assert f"{each:.2f} ml of neutral silicone" in note.what


def test_a_loose_layer_takes_no_glue() -> None:
    assert not any("cap on" in one.where for one in glue(subject()))
    assert any("cap on" in one.where for one in glue(changed(('loose = ["cap"]', "loose = []"))))


def test_wood_glue_does_not_hold_acrylic() -> None:
    (fault,) = alarms(CHECK, changed(('loose = ["cap"]', 'loose = ["cap"]\nacrylic = "wood glue"')))
    assert fault.level == Level.FAULT
    assert "does not hold opal (acrylic)" in fault.what
    assert "neutral silicone" in fault.advice


@pytest.mark.parametrize(("name", "does"), [("superglue", "fogs"), ("acid silicone", "can craze")])
def test_glues_that_harm_acrylic(name: str, does: str) -> None:
    found = alarms(CHECK, changed(('loose = ["cap"]', f'loose = ["cap"]\nacrylic = "{name}"')))
    (caution,) = [one for one in found if does in one.what]
    assert caution.level == Level.CAUTION


def test_a_groove_as_usual_holds_what_comes_out() -> None:
    lamp = changed(*GROOVED)
    assert alarms(CHECK, lamp) == []
    assert any("the groove holds 1.20 mm²" in one.what for one in glue(lamp))


def test_too_small_a_groove_overflows_and_is_told_how_deep_it_must_be() -> None:
    shallow = (GROOVED[0][0], GROOVED[0][1].replace('"recess" }', '"recess", depth = 0.1 }'))
    (caution,) = alarms(CHECK, changed(shallow))
    assert caution.limit == pytest.approx(1.5 * 0.1)
    assert caution.value is not None
    assert caution.value > 0.15
    # with the depth that is advised, it holds
    enough = caution.value / 1.5 + 1e-3
    mended = (GROOVED[0][0], GROOVED[0][1].replace('"recess" }', f'"recess", depth = {enough:.4f} }}'))
    assert alarms(CHECK, changed(mended)) == []


def test_wide_joints_are_glued_in_a_band() -> None:
    (joint,) = [one for one in joints(changed(("repeat = 3", "repeat = 1")).stack) if one.upper.name == "cap"]
    whole = laid(joint, 0.1, 1000.0, 0.3, 0.0)
    band = laid(joint, 0.1, 10.0, 0.3, 0.0)
    assert not whole.banded
    assert band.banded
    assert band.area < whole.area


def test_a_band_takes_what_lies_within_it_and_no_more_than_there_is() -> None:
    # π·(R² − (R − 20)²), along 2π·(R − 10): under a cap with R = 60, and of one with R = 21 nearly all
    for radius, area in ((60.0, pi * (60.0**2 - 40.0**2)), (21.0, pi * (21.0**2 - 1.0))):
        lamp = two_boards(f"circle = {2 * radius}")
        here = laid(joints(lamp.stack)[0], 0.1, 20.0, 0.3, 0.0)
        assert here.banded
        assert here.area == pytest.approx(area, rel=0.01)
        assert here.length == pytest.approx(2.0 * pi * (radius - 10.0), rel=0.01)
    # A bar 30 wide has nothing that is 20 from its edge, though 300 × 30 / 330 is more than that.
    bar = laid(joints(two_boards("rectangle = [300, 30]").stack)[0], 0.1, 20.0, 0.3, 0.0)
    assert (bar.area, bar.banded) == (pytest.approx(300.0 * 30.0), False)


def two_boards(outline: str) -> Study:
    """Two boards on each other."""
    board = f'material = "ply", outline = {{ {outline} }}'
    return Study(
        LampFile.from_text(
            'name = "Two boards"\nmaterials.ply = { plywood = "birch", sold = 9 }\n'
            f'layer = [{{ name = "lower", {board} }}, {{ name = "upper", {board} }}]'
        )
    )


def test_more_excess_squeezes_more_out() -> None:
    joint = joints(subject().stack)[0]
    meant = [laid(joint, 0.1, 20.0, excess, 0.2).most for excess in (0.0, 0.3, 0.6)]
    assert meant == sorted(meant)
    assert laid(joint, 0.1, 20.0, 0.0, 0.0).most == 0.0
