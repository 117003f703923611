"""What the hand does at the window, apart from any window: the same calls come from the mouse, keys and tests."""

from collections.abc import Callable
from dataclasses import replace

from stackview.window.keys import after_key
from stackview.window.layout import SLIDERS, direction_at, slider_at, slider_share
from stackview.window.model import Model
from stackview.window.onlooker import PlatesHere
from stackview.window.overlay import Overlay
from stackview.window.shown import Shown
from stackview.window.stage import SAMPLES, Stage
from stackview.window.state import ViewState, after_slider, after_turn, after_wheel, first_view, looking


class Desk:
    """A lamp on a stage, the state that it is shown in, and the hand that changes it.

    ``save`` is called with lamp and state when a picture is wanted and returns what to say.
    """

    def __init__(self, stage: Stage, shown: Shown, save: Callable[[Shown, ViewState], str]) -> None:
        self.stage, self.shown, self.save = stage, shown, save
        self.state = first_view(shown.ball, shown.study.lamp.units)
        self.model = Model(stage, shown, self.state)
        self.overlay = Overlay(stage, shown)
        self.held: str | None = None
        self.at = (0.0, 0.0)
        self.stale = True
        self.quick = False

    def key(self, name: str) -> None:
        """A key was pressed."""
        self._change(after_key(self.state, name, self.shown))
        if self.state.wish == "save":
            self._change(replace(self.state, wish=None))
            self.say(self.save(self.shown, self.state))

    @property
    def closing(self) -> bool:
        """Whether the window is to be closed."""
        return self.state.wish == "close"

    def press(self, x: float, y: float) -> None:
        """The button went down at a place [px, y down]."""
        self.at = (x, y)
        plan = self.overlay.plan
        slider = slider_at(plan, x, y)
        if self.state.help:
            self.held = None
            self._change(replace(self.state, help=False))
        elif slider is not None:
            self.held = slider
            self._slide(x)
        elif plan.chart is not None and plan.chart.holds(x, y):
            self.held = "map"
            self._point(x, y)
        elif plan.readout.holds(x, y) or any(
            box is not None and box.holds(x, y) for box in (plan.map_panel, plan.sliders)
        ):
            self.held = None
        else:
            self.held = "lamp"

    def move(self, x: float, y: float) -> None:
        """The mouse moved to a place."""
        if self.held == "lamp":
            across, up = x - self.at[0], self.at[1] - y
            self._change(after_turn(self.state, self.shown.ball, across, up))
        elif self.held == "map":
            self._point(x, y)
        elif self.held in SLIDERS:
            self._slide(x)
        self.at = (x, y)

    def release(self) -> None:
        """The button went up."""
        self.held = None

    def wheel(self, steps: float) -> None:
        """The wheel turned: nearer for positive steps."""
        self._change(after_wheel(self.state, self.shown.ball, steps))

    def adopt(self, shown: Shown) -> None:
        """Show another lamp, from where the eye is."""
        self.model.clear()
        self.shown = shown
        state = looking(replace(self.state, error="", message="read anew"), shown.ball)
        self.model = Model(self.stage, shown, state)
        self.overlay.adopt(shown)
        self._change(state)

    def fault(self, words: str) -> None:
        """Say what is wrong in the file; the lamp shown stays."""
        self._change(replace(self.state, error=words, message=""))

    def say(self, words: str) -> None:
        """Say something at the window's foot, or nothing."""
        self._change(replace(self.state, message=words))

    def plates(self, found: PlatesHere) -> None:
        """Show how spotty the acrylic looks from where the eye was when it was asked."""
        self.overlay.plates = found
        self.stale = True

    def resized(self) -> None:
        """The window has another size."""
        self.stale = True

    def draw(self, *, quick: bool = False) -> None:
        """Draw what there is to draw; ``quick`` leaves the smooth edges for when the hand rests."""
        self.model.show(self.state)
        self.overlay.show(self.state, quick=quick)
        self.stage.smooth(1 if quick else SAMPLES)
        self.stage.render()
        self.stale, self.quick = False, quick

    def _slide(self, x: float) -> None:
        track = dict(zip(SLIDERS, self.overlay.plan.tracks, strict=True))[str(self.held)]
        self._change(after_slider(self.state, str(self.held), slider_share(track, x)))

    def _point(self, x: float, y: float) -> None:
        chart = self.overlay.plan.chart
        if chart is not None:
            bearing, elevation = direction_at(chart, x, y)
            self._change(looking(self.state, self.shown.ball, bearing=bearing, elevation=elevation))

    def _change(self, state: ViewState) -> None:
        if state != self.state:
            self.state, self.stale = state, True
