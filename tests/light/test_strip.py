"""Strips cut at their marks, and the length of a helix."""

from math import atan, degrees, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.description.light_source import Strip
from stackview.description.units import MILLIMETRES, Units
from stackview.errors import LampError
from stackview.light.strip import cut_strip, helix_turn

STRIP = Strip(spacing=1000 / 60, cut_every=50.0, width=8.0, thickness=1.0)


def test_helix_of_ten_turns() -> None:
    # CRC Standard Mathematical Tables, helix: r 13.5, pitch 12, height 120 is 10 turns, 856.676229 long,
    # lead angle 8.052259°.
    assert 10 * helix_turn(13.5, 12.0) == pytest.approx(856.676229, abs=1e-6)
    assert degrees(atan(12.0 / (2 * pi * 13.5))) == pytest.approx(8.052259, abs=1e-6)


def test_a_helix_without_pitch_is_a_circle() -> None:
    assert helix_turn(10.0, 0.0) == pytest.approx(20 * pi)


def test_cut_at_the_last_mark_that_fits() -> None:
    cut = cut_strip(STRIP, 249.0, "strip", MILLIMETRES)
    assert (cut.segments, cut.length, cut.count) == (4, 200.0, 12)


def test_a_length_right_at_a_mark_reaches_it() -> None:
    assert cut_strip(Strip(25.0 / 3.0, 25.0, 8.0, 1.0), 3 * 25.0, "strip", MILLIMETRES).count == 9


def test_shorter_than_one_segment_is_refused_with_both_lengths() -> None:
    with pytest.raises(LampError, match=r"strip: .*49\.9 mm.*one segment of 50 mm"):
        cut_strip(STRIP, 49.9, "strip", MILLIMETRES)
    # rounded down: 1.9685 in as 1.969 in would be taken for room that is there
    with pytest.raises(LampError, match=r"room for 1\.964 in of strip.*one segment of 1\.969 in;"):
        cut_strip(STRIP, 49.9, "strip", Units("in"))


@given(st.floats(50.0, 5000.0), st.integers(1, 12), st.floats(5.0, 100.0))
def test_never_longer_than_the_room(room: float, per_segment: int, segment: float) -> None:
    strip = Strip(segment / per_segment, segment, 8.0, 1.0)
    if room < segment:
        return
    cut = cut_strip(strip, room, "strip", MILLIMETRES)
    assert cut.length <= room * (1 + 1e-6)
    assert room - cut.length < segment * (1 + 1e-6)
    assert cut.count == cut.segments * per_segment
