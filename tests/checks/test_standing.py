import re
from dataclasses import replace
from math import atan, degrees, pi, radians, tan

import numpy as np
import pytest

from stackview.checks.standing import CHECK, standing, support, weight
from stackview.description.lamp import Surface
from stackview.findings import Finding, Level
from stackview.study import Study
from tests.checks.written import alarms, subject

HEAD = 'name = "x"\nmaterials.w = { plywood = "birch", sold = 18, density = 700 }\n'


def tower(base: float, count: int, more: str = "") -> str:
    """Blocks of 40 × 40 × 18 on a square foot."""
    block = '[[layer]]\nname = "b"\nmaterial = "w"\noutline = { rectangle = [40, 40] }\n'
    blocks = "".join(block.replace('"b"', f'"b{k}"') for k in range(count))
    foot = f'[[layer]]\nname = "foot"\nmaterial = "w"\noutline = {{ rectangle = [{base}, {base}] }}\n'
    return HEAD + foot + blocks + more


def pendant(at: str, wire: str = "0.75 mm2", density: int = 700) -> str:
    text = HEAD.replace("700", str(density))
    text += f'cord = {{ at = {at}, wire = "{wire}", length = 1000 }}\npendant = {{ underside = 1500 }}\n'
    text += '[[layer]]\nname = "lid"\nmaterial = "w"\noutline = { circle = 200 }\n'
    return text + f"opening = {{ circle = 7, at = {at} }}\n"


def test_a_sound_lamp_raises_no_alarm() -> None:
    assert alarms(CHECK, subject()) == []


def test_centre_of_mass_and_tip_angle_by_hand() -> None:
    lamp = subject(tower(40.0, 9))
    grams, (x, y, z) = weight(lamp.stack)
    # one block 40 × 40 × 180 of 700 kg/m³
    assert grams == pytest.approx(0.04 * 0.04 * 0.18 * 700e3)
    assert (x, y, z) == pytest.approx((0.0, 0.0, 90.0), abs=1e-9)
    (found,) = standing(lamp)
    assert found.value == pytest.approx(
        degrees(atan(20.0 / 90.0))
    )  # 12.5°: steady for a table, not for a child
    assert (found.level, found.limit) == (Level.NOTE, 15.0)
    assert "for a lamp within a child's reach the guidance is 15°" in found.what


def test_a_needle_falls_and_the_base_that_is_advised_holds_it() -> None:
    (fault,) = standing(subject(tower(40.0, 24)))
    assert fault.level == Level.FAULT
    (wider,) = fault.ways
    # at 6° a middle 225 up lies 225·tan 6° = 23.65 aside
    assert (wider.part, wider.key, wider.guess) == (
        "foot",
        "size of outline",
        pytest.approx(225.0 * tan(radians(6.0)) - 20.0),
    )
    assert not re.search(r"\d", fault.advice)
    (better,) = standing(subject(tower(140.0, 24)))
    assert better.level < Level.FAULT


def test_three_feet_hold_only_as_far_as_the_line_between_two() -> None:
    text = tower(100.0, 1, "[feet]\ncount = 3\ndiameter = 2\ncircle = 80\n")
    (found,) = standing(subject(text))
    lamp = subject(text)
    # feet on a circle of radius 40: the line between two lies 20 from the middle, the feet's own radius 1
    assert np.hypot(*support(lamp.stack).T).max() == pytest.approx(41.0, abs=0.1)
    height = weight(lamp.stack)[1][2]
    assert found.value == pytest.approx(degrees(atan(21.0 / height)), abs=0.1)


def test_a_pendant_hung_from_its_middle_hangs_straight() -> None:
    found = standing(subject(pendant("[0, 0]")))
    assert [one.level for one in found] == [Level.FACT, Level.FACT]
    assert found[0].value == pytest.approx(0.0, abs=1e-6)


def test_a_pendant_hung_beside_its_middle_by_hand() -> None:
    tilt, _ = standing(subject(pendant("[10, 0]")))
    # a disc 18 thick less a hole of 7 at 10: its centre of mass a little to the other side
    hole, disc = 3.5**2, 100.0**2
    offset = 10.0 + 10.0 * hole / (disc - hole)
    assert tilt.value == pytest.approx(degrees(atan(offset / 9.0)), abs=0.01)
    assert tilt.level == Level.CAUTION
    assert tilt.advice.startswith("Let the cord leave over the centre of mass")
    cord, hole = tilt.ways
    assert (cord.part, cord.key, cord.now) == ("cord", "at", (10.0, 0.0))
    assert cord.guess == pytest.approx((10.0 - offset, 0.0), abs=1e-3)
    assert hole.guess == pytest.approx(cord.guess)
    assert (hole.part, hole.key) == ("lid", "place of opening 0")


def test_pull_on_the_cord_by_hand() -> None:
    _, pull = standing(subject(pendant("[0, 0]", "0.2 mm2", 2000)))
    newtons = pi * (0.1**2 - 0.0035**2) * 0.018 * 2000.0 * 9.81
    assert pull.value == pytest.approx(newtons / 0.4, rel=2e-3)
    assert pull.level == Level.CAUTION
    (way,) = pull.ways
    _, held = standing(subject(pendant("[0, 0]", str(way.guess), 2000)))
    assert held.level == Level.FACT


def test_too_heavy_for_any_cord() -> None:
    (_, pull) = standing(subject(pendant("[0, 0]", "1.5 mm2", 12000)))
    assert (pull.level, pull.limit) == (Level.FAULT, 5.0)


def on(*size: float, at: tuple[float, float] = (0.0, 0.0)) -> list[Finding]:
    """A tower on a foot of 100 × 100, on a surface; what is said of the surface."""
    lamp = replace(subject(tower(100.0, 2)).lamp, surface=Surface(700.0, size, at))
    return [one for one in standing(Study(lamp)) if one.where == "surface"]


@pytest.mark.parametrize("size", [(1000.0, 600.0), (100.0, 100.0), (142.0, 100.0), (141.5,)])
def test_a_surface_as_large_as_the_foot_is_large_enough(size: tuple[float, ...]) -> None:
    assert on(*size) == []


def test_a_foot_that_reaches_past_the_edge() -> None:
    (found,) = on(100.0, 80.0)
    assert (found.level, found.value) == (Level.CAUTION, pytest.approx(10.0))
    (round_,) = on(120.0)
    # corners of the foot are 70.71 from the axis
    assert (round_.level, round_.value) == (Level.CAUTION, pytest.approx(70.7107 - 60.0, abs=1e-2))


def test_a_lamp_whose_weight_lies_past_the_edge_falls() -> None:
    (found,) = on(400.0, 400.0, at=(210.0, 0.0))
    assert found.level == Level.FAULT
    assert "falls off" in found.what
    # 40 mm in from the edge it stands, but not with all of its foot
    (near,) = on(400.0, 400.0, at=(160.0, 0.0))
    assert (near.level, near.value) == (Level.CAUTION, pytest.approx(10.0))


def test_a_body_that_reaches_past_the_edge_is_a_note() -> None:
    # a foot of 40 under a block of 100 × 100, on a shelf 60 deep
    text = HEAD + '[[layer]]\nname = "foot"\nmaterial = "w"\noutline = { rectangle = [40, 40] }\n'
    text += '[[layer]]\nname = "body"\nmaterial = "w"\noutline = { rectangle = [100, 100] }\n'
    for deep, past in ((100.0, None), (60.0, 20.0)):
        lamp = replace(subject(text).lamp, surface=Surface(700.0, (400.0, deep)))
        found = [one for one in standing(Study(lamp)) if one.where == "body"]
        assert [(one.level, one.value) for one in found] == (
            [] if past is None else [(Level.NOTE, pytest.approx(past))]
        )
