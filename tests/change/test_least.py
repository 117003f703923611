"""The least change: inside its bracket, on the safe side, stepped on until confirmed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.change.least import BISECTED_TO, bracketed, confirmed
from stackview.change.printed import steps_for
from stackview.description.units import Units

STEPS = steps_for(5.0, Units("mm"))


@given(st.floats(0.02, 9.9), st.sampled_from([1, -1]), st.floats(0.1, 5.0))
def test_a_threshold_is_met_from_its_safe_side(far: float, towards: int, first: float) -> None:
    value = bracketed(lambda x: (x - 20.0) * towards >= far, 20.0, towards, first)
    assert value is not None
    assert far <= (value - 20.0) * towards <= far + BISECTED_TO + 1e-9


def test_the_greatest_change_is_tried_too_and_nothing_beyond() -> None:
    assert bracketed(lambda x: x >= 15.0, 5.0, 1, 0.3) == pytest.approx(15.0, abs=BISECTED_TO)
    assert bracketed(lambda x: x >= 15.02, 5.0, 1, 0.3) is None


def test_a_window_is_found_and_not_left_by_bisecting() -> None:
    # holds from 1 to 2 alone: steps 0.5, 0.75, 1.125 reach it
    value = bracketed(lambda x: 1.0 <= x <= 2.0, 0.0, 1, 0.5)
    assert value == pytest.approx(1.0, abs=BISECTED_TO)


def test_the_printed_number_lies_past_the_value_and_steps_on() -> None:
    first = confirmed(lambda _: True, STEPS, 5.0, 5.803, 1)
    assert first is not None
    assert (first.text, first.typed) == ("5.9 mm", 5.9)
    later = confirmed(lambda to: to.mm >= 6.05, STEPS, 5.0, 5.803, 1)
    assert later is not None
    assert later.text == "6.1 mm"
    down = confirmed(lambda _: True, STEPS, 5.0, 2.02, -1)
    assert down is not None
    assert down.text == "2 mm"
    assert confirmed(lambda _: False, STEPS, 5.0, 5.8, 1) is None


def test_the_old_number_is_no_change() -> None:
    to = confirmed(lambda _: True, STEPS, 5.0, 5.0, 1)
    assert to is not None
    assert to.text == "5.1 mm"
