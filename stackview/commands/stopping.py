"""Ctrl-C and polite requests to end: whatever is at work is unwound, half-written files go, and no traceback is left."""

import _thread
import os
import signal
import sys
import time
from contextlib import suppress
from enum import Enum

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator
    from types import FrameType
    from typing import NoReturn

STOPPED = "stopped; nothing half-written is left"
WRITERS = (
    "commands/writing.py",
    "commands/writing_together.py",
    "commands/mishap.py",
    "glow/proving.py",
    "stills/kept_light.py",
    "stills/picture_file.py",
)
"""Files of ours in which a half-written file may have to be put away."""

_DEAF = 2.0
"""Further requests are not heard for so long, while files are put away [s]."""
_MOMENT = 0.02
"""After which a request is made again that came at a bad time [s]."""


class Stopped(Enum):
    """What asked the program to stop."""

    BY_KEY = "SIGINT"
    BY_END = "SIGTERM"
    BY_HANG_UP = "SIGHUP"

    @property
    def exit_code(self) -> int:
        """128 and the signal's number, as shells have it (POSIX.1-2017, 2.8.2)."""
        return 128 + int(getattr(signal, self.value, signal.SIGTERM))


class _Asked:
    """Who asked last, and when."""

    by: Stopped | None = None
    at = -_DEAF


def asked_to_stop() -> Stopped | None:
    """Who has asked this program to stop; None while nobody has."""
    return _Asked.by


def stop_on_signals() -> None:
    """Let the signals that ask to stop raise KeyboardInterrupt, but for those that whoever started us has turned off."""
    for why in Stopped:
        number = getattr(signal, why.value, None)
        if number is not None and signal.getsignal(number) in (
            signal.SIG_DFL,
            signal.default_int_handler,
        ):
            signal.signal(number, _stop)
    sys.unraisablehook = _heard_late


def quiet_end(code: int) -> None:
    """Nothing is at work any more: a key pressed now just ends the process; one that was stopped ends at once."""
    for why in Stopped:
        number = getattr(signal, why.value, None)
        if number is not None and signal.getsignal(number) is _stop:
            signal.signal(number, signal.SIG_DFL)
    if _Asked.by is not None and code == _Asked.by.exit_code:
        # threads at work would be waited for
        os._exit(code)


def _stop(number: int, frame: "FrameType | None") -> None:
    now = time.monotonic()
    _Asked.by = _Asked.by or Stopped(signal.Signals(number).name)
    stack = [at.f_code.co_filename.replace("\\", "/") for at in _outwards(frame)]
    if "<frozen importlib._bootstrap>" in stack:
        # a library that is stopped while it loads itself may end the process by a fault
        if any(file.endswith(WRITERS) for file in stack):
            _ask_again()
        else:
            _end_at_once(_Asked.by)
    elif now - _Asked.at >= _DEAF:
        _Asked.at = now
        raise KeyboardInterrupt


def _outwards(frame: "FrameType | None") -> "Iterator[FrameType]":
    while frame is not None:
        yield frame
        frame = frame.f_back


def _end_at_once(why: Stopped) -> "NoReturn":
    """End the process; nothing is half-written, and a progress bar may have hidden the cursor."""
    with suppress(OSError):
        if os.isatty(2):
            os.write(2, b"\x1b[?25h")
        os.write(2, f"{STOPPED}\n".encode())
    os._exit(why.exit_code)


def _ask_again() -> None:
    """Make the request once more in a moment."""

    def ask() -> None:
        time.sleep(_MOMENT)
        _thread.interrupt_main()

    _thread.start_new_thread(ask, ())


def _heard_late(lost: "sys.UnraisableHookArgs") -> None:
    """A request that came where nothing can be raised (a finalizer, a library's callback) is made once more."""
    if isinstance(lost.exc_value, KeyboardInterrupt) or lost.exc_type is KeyboardInterrupt:
        _Asked.at = -_DEAF
        _ask_again()
    else:
        sys.__unraisablehook__(lost)
