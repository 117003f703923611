"""Whether the graphics libraries that a window needs are there, found out without starting them.

The toolkit dies by a signal where they are missing, so that they have to be looked for first.
"""

import ctypes
import os
import sys
from collections.abc import Callable

from stackview.errors import StackviewError

_WINDOW = (("libGL.so.1", "libgl1"), ("libX11.so.6", "libx11-6"))
_OFF_SCREEN = (("libEGL.so.1", "libegl1"), ("libGL.so.1", "libgl1"))
"""Shared libraries and the Debian packages that bring them; names from memory, checked on Debian 12."""


class NoWindowError(StackviewError):
    """No window can be opened here; the message says what is missing and what to install."""


def loads(name: str) -> bool:
    """Whether the system's loader finds a shared library."""
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True


def what_is_missing(*, off_screen: bool, loads: Callable[[str], bool] = loads) -> str | None:
    """One line about what stands in the way of a window, or of an off-screen one; None if nothing does."""
    if not sys.platform.startswith("linux"):
        return None
    if not off_screen and not os.environ.get("DISPLAY"):
        return (
            "no window: no display (DISPLAY is not set); run it on a desktop, or with "
            '"xvfb-run stackview view LAMP" (Debian: apt install xvfb libgl1 libgl1-mesa-dri)'
        )
    lacking = [
        (name, package) for name, package in (_OFF_SCREEN if off_screen else _WINDOW) if not loads(name)
    ]
    if not lacking:
        return None
    names = " and ".join(name for name, _ in lacking)
    packages = " ".join(package for _, package in lacking)
    return f"no window: {names} not found; install it (Debian: apt install {packages} libgl1-mesa-dri)"


def display_answers() -> bool:
    """Whether the X display that DISPLAY names takes a connection."""
    if not sys.platform.startswith("linux"):
        return True
    try:
        x11 = ctypes.CDLL("libX11.so.6")
    except OSError:
        return False
    x11.XOpenDisplay.restype = ctypes.c_void_p
    x11.XOpenDisplay.argtypes = [ctypes.c_char_p]
    x11.XCloseDisplay.argtypes = [ctypes.c_void_p]
    display = x11.XOpenDisplay(None)
    if not display:
        return False
    x11.XCloseDisplay(display)
    return True


def check_window() -> None:
    """Raise NoWindowError, in one line, where no window on a screen can be opened."""
    missing = what_is_missing(off_screen=False)
    if missing is None and not display_answers():
        missing = (
            f"no window: the display {os.environ.get('DISPLAY', '')} does not answer; set DISPLAY to one "
            'that does, or use "xvfb-run stackview view LAMP" (Debian: apt install xvfb)'
        )
    if missing is not None:
        raise NoWindowError(missing)
