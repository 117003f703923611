from math import cos, pi, radians

import pytest

from stackview.checks.bending import lead_angle
from stackview.checks.strip import CHECK
from stackview.findings import Level
from tests.checks.written import alarms, changed, subject

KELP_STRIP = "helix = { pitch = 14 }\ncontinuous = true\ncut_every = 25"


def tube(diameter: float, more: str = "") -> tuple[tuple[str, str], ...]:
    """A tube of that diameter in openings that let its strip pass, with a continuous strip at pitch 14."""
    return (
        ("outline = { circle = 40 }", f"outline = {{ circle = {diameter} }}"),
        ("opening = { circle = 46 }", f"opening = {{ circle = {diameter + 8} }}"),
        ("helix = { pitch = 12 }", KELP_STRIP + more),
        ("outline = { circle = 120 }\nwall = 14", "outline = { circle = 220 }\nwall = 44"),
        ("outline = { circle = 104 }", "outline = { circle = 150 }"),
    )


def test_a_sound_lamp_raises_no_alarm() -> None:
    assert alarms(CHECK, subject()) == []


def test_a_continuous_strip_is_fine_on_100_mm_and_bent_too_tightly_on_60() -> None:
    assert alarms(CHECK, changed(*tube(100.0))) == []
    (caution,) = alarms(CHECK, changed(*tube(60.0)))
    # R/cos²α at mid-thickness, R 31, pitch 14: α = atan(14/2π31)
    assert caution.value == pytest.approx(31.0 / cos(radians(lead_angle(31.0, 14.0))) ** 2)
    assert (caution.level, caution.limit) == (Level.CAUTION, 40.0)
    core, pitch = caution.ways
    # R + (p/2π)²/R = 40 at mid-thickness: R = 39.8755, 38.8755 under the strip
    assert (core.part, core.key, core.guess) == (
        "core",
        "size of outline",
        pytest.approx(38.8755 - 30.0, abs=1e-4),
    )
    # R/cos²α = 40 at R 31: tan α = √(40/31 − 1), and 2π·31 times that climbs in a turn
    assert (pitch.key, pitch.guess) == ("helix.pitch", pytest.approx(2 * pi * 31 * (40 / 31 - 1) ** 0.5))


def test_the_core_that_is_advised_mends_it() -> None:
    assert alarms(CHECK, changed(*tube(77.8))) == []


def test_the_strips_own_data_sheet_comes_first() -> None:
    assert alarms(CHECK, changed(*tube(60.0, "\nbend_radius = 25"))) == []
    assert len(alarms(CHECK, changed(*tube(100.0, "\nbend_radius = 80")))) == 1


def test_a_strip_straight_up_a_thin_round_core_stands_off() -> None:
    runs = (("helix = { pitch = 12 }", "runs = { count = 2 }"),)
    # sagitta of 8 on a radius of 20: 20 − √(400 − 16) = 0.404
    (caution,) = alarms(CHECK, changed(*runs))
    assert caution.value == pytest.approx(20.0 - (400.0 - 16.0) ** 0.5)
    # (w²/4 + s²)/s = 53.6333 across, with s the limit of 0.3
    (core,) = caution.ways
    assert core.guess == pytest.approx(53.6333 / 2 - 20.0, abs=1e-4)


def test_no_round_core_is_offered_to_a_tape_that_bridges_nothing() -> None:
    runs = ("helix = { pitch = 12 }", "runs = { count = 2 }")
    found = alarms(CHECK, changed(runs, more='\n[limits]\ntape_lift = "0 mm"\n'))
    (caution,) = [one for one in found if "stand" in one.what]
    assert caution.ways == ()


def test_flats_narrower_than_the_strip_hold_it_poorly() -> None:
    def flats(across: float) -> list:  # type: ignore[type-arg]
        return alarms(
            CHECK,
            changed(
                (
                    "outline = { circle = 40 }\nwall = 2",
                    f"outline = {{ sides = 6, across_flats = {across} }}\nwall = 2",
                ),
                ("helix = { pitch = 12 }", "runs = { count = 6 }"),
            ),
        )

    assert flats(30.0) == []  # 17.3 wide
    (caution,) = flats(10.0)
    assert caution.value == pytest.approx(10.0 / 3**0.5 / 8.0)


def test_a_strip_across_the_corner_of_a_core_lies_on_half_of_its_width() -> None:
    square = ("outline = { circle = 40 }\nwall = 2", "outline = { rectangle = [30, 30] }\nwall = 2")

    def at(first: float) -> list:  # type: ignore[type-arg]
        runs = f"runs = {{ count = 4, first = {first} }}"
        return alarms(CHECK, changed(square, ("helix = { pitch = 12 }", runs)))

    assert [one for one in at(0.0) if one.level == Level.CAUTION] == []
    (caution,) = (one for one in at(45.0) if one.level == Level.CAUTION)
    assert caution.value == pytest.approx(0.5)
    assert "in the middle of one" in caution.advice
    (turned,) = (way for way in caution.ways if way.key == "runs.first")
    assert float(turned.guess) % 90.0 == pytest.approx(0.0)


def test_a_strip_on_the_rounded_end_of_a_core_stands_off() -> None:
    # 36 long and 20 wide with ends rounded by 10: a strip 8 wide at its end stands off by its sagitta
    ends = (
        "outline = { circle = 40 }\nwall = 2",
        "outline = { rectangle = [36, 20], corner_radius = 10 }\nwall = 2",
    )
    runs = ("helix = { pitch = 12 }", "runs = { count = 2, first = 90 }")
    (caution,) = (one for one in alarms(CHECK, changed(ends, runs)) if one.level == Level.CAUTION)
    assert caution.value == pytest.approx(10.0 - (100.0 - 16.0) ** 0.5)
