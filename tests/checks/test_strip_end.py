from math import cos, radians

import pytest

from stackview.checks.bending import lead_angle
from stackview.checks.strip import strip
from stackview.findings import Level
from stackview.light.strip import helix_turn
from tests.checks.written import changed, subject


def test_the_end_of_the_run() -> None:
    (note,) = strip(subject())
    # room: (33 − 5 − 8 cos α)/12 turns of √((2π·21)² + 12²); cut every 1000/60
    turn = helix_turn(21.0, 12.0)
    room = (33.0 - 5.0 - 8.0 * cos(radians(lead_angle(21.0, 12.0)))) / 12.0 * turn
    assert note.value == pytest.approx(room % (1000.0 / 60.0))
    assert f"{int(room // (1000 / 60))} segments" in note.what


def test_the_taller_core_that_is_advised_takes_one_more_segment() -> None:
    (before,) = strip(subject())
    taller = float(before.advice.split("A core ")[1].split(" mm")[0])
    count = int(before.what.split(" segments")[0].split()[-1])
    (after,) = strip(changed(("height = 33", f"height = {33 + taller:.2f}")))
    assert int(after.what.split(" segments")[0].split()[-1]) == count + 1


def test_upright_runs_end_where_their_room_does() -> None:
    found = strip(changed(("helix = { pitch = 12 }", "runs = { count = 4 }")))
    (note,) = (one for one in found if one.level == Level.FACT)
    # from 5 above the foot of a core of 33, in segments of 1000/60
    assert note.value == pytest.approx(28.0 - 1000.0 / 60.0)
    assert "each of 4 lengths" in note.what
    assert "turns" not in note.what


@pytest.mark.parametrize(
    ("written", "before", "after"),
    [("turns = 1.3", "", " turns would"), ("length = 180", "A length of ", " mm would")],
)
def test_the_turns_or_the_length_that_is_told_takes_one_more_segment(
    written: str, before: str, after: str
) -> None:
    def note(key: str) -> tuple[int, str]:
        found = strip(changed(("helix = { pitch = 12 }", f"helix = {{ pitch = 12, {key} }}")))
        (one,) = (each for each in found if each.level == Level.FACT)
        return int(one.what.split(" segment")[0].split()[-1]), one.advice

    count, advice = note(written)
    more = advice.partition(after)[0].removeprefix(before)
    assert note(f"{written.partition(' = ')[0]} = {float(more)}")[0] == count + 1


def test_a_length_that_the_core_has_no_room_for_is_not_to_blame() -> None:
    (one,) = (
        each
        for each in strip(changed(("helix = { pitch = 12 }", "helix = { pitch = 12, length = 400 }")))
        if each.level == Level.FACT
    )
    taller = float(one.advice.split("A core ")[1].split(" mm")[0])
    count = int(one.what.split(" segment")[0].split()[-1])
    higher = (
        ("helix = { pitch = 12 }", "helix = { pitch = 12, length = 400 }"),
        ("height = 33", f"height = {33 + taller:.2f}"),
    )
    (after,) = (each for each in strip(changed(*higher)) if each.level == Level.FACT)
    assert int(after.what.split(" segment")[0].split()[-1]) == count + 1
