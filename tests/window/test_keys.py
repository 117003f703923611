"""Every key, pressed on a state alone."""

from dataclasses import replace

import pytest

from stackview.description.units import Units
from stackview.window.keys import KEYS, after_key
from stackview.window.shown import Shown
from stackview.window.state import ViewState, first_view


@pytest.fixture
def state(honeycomb: Shown) -> ViewState:
    return first_view(honeycomb.ball)


def test_each_name_stands_for_one_key() -> None:
    names = [name for key in KEYS for name in key.names]
    assert len(names) == len(set(names))
    assert all(key.does for key in KEYS)


@pytest.mark.parametrize(
    "name", ["²", "e", "w", "r", "f", "s", "i", "j", "t", "3x", "Shift_L", "", "Return", "space"]
)
def test_other_keys_do_nothing(name: str, state: ViewState, honeycomb: Shown) -> None:
    assert after_key(state, name, honeycomb) == state


def test_arrows(state: ViewState, honeycomb: Shown) -> None:
    assert after_key(state, "Right", honeycomb).bearing == state.bearing + 5.0
    assert after_key(state, "Left", honeycomb).bearing == state.bearing - 5.0
    assert after_key(state, "Up", honeycomb).elevation == state.elevation + 5.0
    assert after_key(replace(state, elevation=-89.0), "Down", honeycomb).elevation == -90.0
    assert (
        after_key(state, "plus", honeycomb).distance
        < state.distance
        < after_key(state, "minus", honeycomb).distance
    )


def test_light_goes_round_three_states(state: ViewState, honeycomb: Shown) -> None:
    lights = []
    for _ in range(3):
        state = after_key(state, "l", honeycomb)
        lights.append(state.light)
    assert lights == [1.0, 0.0, 0.5]


@pytest.mark.parametrize(("name", "field"), [("b", "rings"), ("g", "grow"), ("h", "help")])
def test_switches(name: str, field: str, state: ViewState, honeycomb: Shown) -> None:
    once = after_key(state, name, honeycomb)
    assert getattr(once, field) is not getattr(state, field)
    assert getattr(after_key(once, name.upper(), honeycomb), field) is getattr(state, field)


def test_spread_cut_and_home(state: ViewState, honeycomb: Shown) -> None:
    changed = after_key(after_key(after_key(state, "a", honeycomb), "c", honeycomb), "Right", honeycomb)
    assert (changed.spread, changed.cut) == (1.0, 0.5)
    home = after_key(changed, "0", honeycomb)
    assert home.whole
    assert (home.bearing, home.elevation, home.distance) == (state.bearing, state.elevation, state.distance)
    assert after_key(after_key(state, "c", honeycomb), "c", honeycomb).cut == 0.0


def test_unit_follows_the_file_and_changes(honeycomb: Shown) -> None:
    state = first_view(honeycomb.ball, honeycomb.study.lamp.units)
    assert state.units == Units("in")
    assert after_key(state, "u", honeycomb).units == Units("mm")


def test_eyes_by_number(state: ViewState, honeycomb: Shown) -> None:
    there = after_key(state, "1", honeycomb)
    assert there.eye == honeycomb.stops[0].name
    assert after_key(there, "period", honeycomb).eye == there.eye, "a lens does not move the eye"
    none = after_key(state, "9", honeycomb)
    assert none.eye is None
    assert "no eye 9" in none.message
    assert (none.bearing, none.distance) == (state.bearing, state.distance)


def test_wishes_for_outside(state: ViewState, honeycomb: Shown) -> None:
    assert after_key(state, "p", honeycomb).wish == "save"
    assert after_key(state, "q", honeycomb).wish == "close"


def test_escape_puts_help_and_message_away(state: ViewState, honeycomb: Shown) -> None:
    away = after_key(replace(state, help=True, message="said"), "Escape", honeycomb)
    assert (away.help, away.message) == (False, "")


def test_band_says_where_it_is(state: ViewState, honeycomb: Shown) -> None:
    there = after_key(state, "n", honeycomb)
    assert "between" in there.message
    assert (there.bearing, there.elevation) != (state.bearing, state.elevation)
