"""The window on the screen: turns the toolkit's events into calls, and draws when something changed."""

import threading
import time
from collections.abc import Callable
from queue import SimpleQueue
from typing import Any

import vtkmodules.vtkRenderingUI  # noqa: F401 - registers the window system's events
from vtkmodules.vtkRenderingCore import vtkRenderWindowInteractor

from stackview.window.desk import Desk
from stackview.window.onlooker import Onlooker
from stackview.window.reading import reading, seen_here
from stackview.window.shown import Shown
from stackview.window.stage import Stage
from stackview.window.state import ViewState
from stackview.window.watch import Watch

_TICK = 0.01
"""Between looks at whether something has to be drawn [s]."""
_POLL = 0.4
"""Between looks at the lamp's file [s]."""
_REST = 0.25
"""After this long without a change the edges are drawn smooth [s]."""
_SAID = 8.0
"""How long a message stays [s]."""


def run_window(
    shown: Shown,
    watch: Watch,
    save: Callable[[Shown, ViewState, tuple[int, int]], str],
    size: tuple[int, int],
) -> None:
    """Open the window and stay until it is closed.

    ``save`` takes a picture of lamp and state in a window of a size, and returns what to say; it
    is called beside the window, which goes on meanwhile.
    """
    stage = Stage(size, off_screen=False)
    stage.window.SetWindowName(f"{shown.study.lamp.name} – stackview")
    aside = Aside(lambda shown, state: save(shown, state, stage.size))
    desk = Desk(stage, shown, aside.begin)
    onlooker = Onlooker(shown.study)
    frame = Frame(desk, watch, aside, onlooker)
    try:
        desk.draw()
        frame.run()
    finally:
        onlooker.close()
    stage.close()


class Aside:
    """Saves pictures beside the window, one at a time."""

    def __init__(self, save: Callable[[Shown, ViewState], str]) -> None:
        self.save = save
        self.worker: threading.Thread | None = None
        self.words: SimpleQueue[str] = SimpleQueue()

    def begin(self, shown: Shown, state: ViewState) -> str:
        """Begin to save, and say so."""
        if self.worker is not None and self.worker.is_alive():
            return "still saving the picture before"
        self.worker = threading.Thread(target=lambda: self.words.put(self.save(shown, state)), daemon=False)
        self.worker.start()
        return "saving a picture of this view …"

    def said(self) -> str | None:
        """What came of it, once."""
        return None if self.words.empty() else self.words.get_nowait()


class Frame:
    """The window's events, and its clock."""

    def __init__(self, desk: Desk, watch: Watch, aside: Aside, onlooker: Onlooker) -> None:
        self.desk, self.watch, self.aside, self.onlooker = desk, watch, aside, onlooker
        self.polled = self.changed = self.said = time.monotonic()
        self.words = ""
        self.size = desk.stage.size
        self.interactor = vtkRenderWindowInteractor()
        self.interactor.SetRenderWindow(desk.stage.window)
        # No style: none of the toolkit's own keys and mouse gestures.
        self.interactor.SetInteractorStyle(None)  # type: ignore[arg-type]
        self.interactor.Initialize()
        for event, does in (
            ("LeftButtonPressEvent", lambda: desk.press(*self._mouse())),
            ("LeftButtonReleaseEvent", desk.release),
            ("MouseMoveEvent", lambda: desk.move(*self._mouse())),
            ("MouseWheelForwardEvent", lambda: desk.wheel(1.0)),
            ("MouseWheelBackwardEvent", lambda: desk.wheel(-1.0)),
            ("KeyPressEvent", lambda: desk.key(self.interactor.GetKeySym() or "")),
            ("ConfigureEvent", desk.resized),
            ("ExposeEvent", desk.resized),
        ):
            self.interactor.AddObserver(event, _told(does))  # type: ignore[arg-type]

    def run(self) -> None:
        """Stay until the window is closed.

        A loop of our own: the toolkit's would not let go of the interpreter while it waits, and
        whatever is read or saved beside the window would stand still.
        """
        while not self.interactor.GetDone() and not self.desk.closing:
            self.interactor.ProcessEvents()
            self.tick()
            time.sleep(_TICK)

    def _mouse(self) -> tuple[float, float]:
        x, y = self.interactor.GetEventPosition()
        return float(x), float(self.desk.stage.size[1] - 1 - y)

    def tick(self) -> None:
        """Draw if something changed, smooth if the hand rests, and look after the file."""
        desk, now = self.desk, time.monotonic()
        self._file(now)
        self._message(now)
        self._plates(now)
        if desk.stage.size != self.size:
            self.size = desk.stage.size
            desk.resized()
        if desk.stale:
            self.changed = now
            desk.draw(quick=True)
        elif desk.quick and now - self.changed > _REST:
            desk.draw()

    def _file(self, now: float) -> None:
        if now - self.polled < _POLL:
            return
        self.polled = now
        self.watch.look()
        result = self.watch.result()
        if isinstance(result, str):
            self.desk.fault(result)
        elif result is not None:
            self.desk.adopt(result)
            self.onlooker.adopt(result.study)

    def _plates(self, now: float) -> None:
        desk, state = self.desk, self.desk.state
        if self.onlooker.stand((state.bearing, state.elevation, state.distance), now) and not desk.stale:
            desk.plates(self.onlooker.ask(seen_here(state, desk.shown, reading(state, desk.shown))))
        found = self.onlooker.answer()
        if found is not None:
            desk.plates(found)

    def _message(self, now: float) -> None:
        words = self.aside.said()
        if words is not None:
            self.desk.say(words)
        if self.desk.state.message != self.words:
            self.words, self.said = self.desk.state.message, now
        elif self.words and now - self.said > _SAID:
            self.desk.say("")


def _told(does: Callable[[], Any]) -> Callable[[Any, Any], None]:
    """Make an observer of a call without arguments."""

    def observer(_source: Any, _event: Any) -> None:
        does()

    return observer
