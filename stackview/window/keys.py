"""What each key does, as a change of the state; the help is made from the same table."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from stackview.in_figures import degrees
from stackview.sight.camera import BEARING, ELEVATION, FIELD
from stackview.window.reading import next_band
from stackview.window.shown import Shown
from stackview.window.state import (
    EVENING_LIGHT,
    STUDIO_LIGHT,
    TURN_STEP,
    ViewState,
    after_slider,
    after_wheel,
    fitting_distance,
    looking,
)

_LENS_STEP = 0.88


@dataclass(frozen=True, slots=True)
class Key:
    """One key: its names from the toolkit, what stands on it, what it does and what that is called."""

    names: tuple[str, ...]
    cap: str
    does: str
    change: Callable[[ViewState, Shown], ViewState]


def after_key(state: ViewState, name: str, shown: Shown) -> ViewState:
    """The state after a key; one that means nothing changes nothing."""
    if name.isdecimal() and name != "0":
        return _to_eye(state, int(name) - 1, shown)
    key = _BY_NAME.get(name) or _BY_NAME.get(name.lower())
    if key is None:
        return state
    return key.change(replace(state, message=""), shown)


def _turned(across: float, up: float) -> Callable[[ViewState, Shown], ViewState]:
    def change(state: ViewState, shown: Shown) -> ViewState:
        return looking(state, shown.ball, bearing=state.bearing + across, elevation=state.elevation + up)

    return change


def _nearer(steps: float) -> Callable[[ViewState, Shown], ViewState]:
    return lambda state, shown: after_wheel(state, shown.ball, steps)


def _lens(by: float) -> Callable[[ViewState, Shown], ViewState]:
    # A lens does not move the eye, so that it stays the named eye that it is.
    return lambda state, shown: looking(state, shown.ball, field=state.field * by, eye=state.eye)


def _home(state: ViewState, shown: Shown) -> ViewState:
    at_rest = replace(state, spread=0.0, cut=0.0)
    return looking(
        at_rest,
        shown.ball,
        bearing=BEARING,
        elevation=ELEVATION,
        distance=fitting_distance(shown.ball),
        field=FIELD,
    )


def _light(state: ViewState, _shown: Shown) -> ViewState:
    if state.light >= 0.75:
        return replace(state, light=0.0, message="day")
    if state.light >= 0.25:
        return replace(state, light=EVENING_LIGHT, message="evening")
    return replace(state, light=STUDIO_LIGHT, message="studio light")


def _spread(state: ViewState, _shown: Shown) -> ViewState:
    return after_slider(state, "spread", 0.0 if state.spread else 1.0)


def _cut(state: ViewState, _shown: Shown) -> ViewState:
    return after_slider(state, "cut", 0.0 if state.cut else 0.5)


def _to_eye(state: ViewState, number: int, shown: Shown) -> ViewState:
    if number >= len(shown.stops):
        have = f"{len(shown.stops)} named" if shown.stops else "none"
        return replace(state, message=f"no eye {number + 1} in this lamp's file: {have}")
    stop = shown.stops[number]
    there = looking(
        state,
        shown.ball,
        bearing=stop.bearing,
        elevation=stop.elevation,
        distance=stop.distance,
        field=stop.field,
        eye=stop.name,
    )
    return replace(there, message=f'eye "{stop.name}" at its worst bearing, through a lens that fits')


def _band(state: ViewState, shown: Shown) -> ViewState:
    band = next_band(state, shown)
    if band is None:
        return replace(state, message="no light point is bare from anywhere as near as this")
    there = looking(state, shown.ball, bearing=band.bearing, elevation=band.elevation)
    return replace(
        there,
        message=f"{band.count} bare from here; from far away from {degrees(band.low)} to {degrees(band.high)}, "
        f"between {band.below} and {band.above}",
    )


def _flag(name: str, on: str, off: str) -> Callable[[ViewState, Shown], ViewState]:
    def change(state: ViewState, _shown: Shown) -> ViewState:
        now = not getattr(state, name)
        # replace() cannot know the name's type beforehand.
        return replace(state, **{name: now, "message": on if now else off})  # type: ignore[arg-type]

    return change


def _units(state: ViewState, shown: Shown) -> ViewState:
    own = shown.study.lamp.units.alone
    return replace(state, units=own.other if state.units == own else own)


def _help(state: ViewState, _shown: Shown) -> ViewState:
    return replace(state, help=not state.help)


def _wish(what: str) -> Callable[[ViewState, Shown], ViewState]:
    return lambda state, _shown: replace(state, wish=what)


def _away(state: ViewState, _shown: Shown) -> ViewState:
    return replace(state, help=False, message="")


KEYS = (
    Key(("Left",), "←", "turn to the left", _turned(-TURN_STEP, 0.0)),
    Key(("Right",), "→", "turn to the right", _turned(TURN_STEP, 0.0)),
    Key(("Up",), "↑", "higher", _turned(0.0, TURN_STEP)),
    Key(("Down",), "↓", "lower", _turned(0.0, -TURN_STEP)),
    Key(("plus", "equal", "KP_Add"), "+", "nearer", _nearer(1.0)),
    Key(("minus", "KP_Subtract"), "−", "farther", _nearer(-1.0)),
    Key(("period", "bracketright"), ".", "longer lens", _lens(_LENS_STEP)),
    Key(("comma", "bracketleft"), ",", "wider lens", _lens(1.0 / _LENS_STEP)),
    Key(("0", "Home"), "0", "first view, assembled and whole", _home),
    Key(("n",), "N", "next bare band, up and then round", _band),
    Key(("b",), "B", "rings round bare light points", _flag("rings", "rings on", "rings off")),
    Key(("g",), "G", "edges that would have to grow", _flag("grow", "", "")),
    Key(("l",), "L", "light: day, studio, evening", _light),
    Key(("a",), "A", "spread apart, or back together", _spread),
    Key(("c",), "C", "cut through the axis, or whole", _cut),
    Key(("u",), "U", "the lamp's unit or the other", _units),
    Key(("p",), "P", "save this view as a PNG picture", _wish("save")),
    Key(("h", "F1", "question"), "H", "this help", _help),
    Key(("Escape",), "Esc", "put away help and message", _away),
    Key(("q",), "Q", "close the window", _wish("close")),
)
_BY_NAME = {name: key for key in KEYS for name in key.names}
