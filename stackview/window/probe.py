"""Tries in a process of its own whether a window can be opened, for a failure there may be a signal."""

import subprocess
import sys

from stackview.window.libraries import NoWindowError

_WINDOW_SOURCE = """
import os
os.environ.pop("VTK_DEFAULT_OPENGL_WINDOW", None)
import vtkmodules.vtkRenderingOpenGL2
from vtkmodules.vtkRenderingCore import vtkRenderWindow
window = vtkRenderWindow()
window.SetShowWindow(False)
if window.GetClassName() in ("vtkEGLRenderWindow", "vtkOSOpenGLRenderWindow"):
    raise SystemExit(4)  # the toolkit fell back to a window that cannot be seen
raise SystemExit(0 if window.SupportsOpenGL() else 3)
"""


def begin_probe(source: str = _WINDOW_SOURCE) -> "subprocess.Popen[bytes]":
    """Start the trial; it takes about a second, in which other work can be done."""
    return subprocess.Popen(
        [sys.executable, "-c", source], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )


def end_probe(trial: "subprocess.Popen[bytes]") -> None:
    """Wait for the trial; raise NoWindowError where it failed or died."""
    try:
        code = trial.wait(timeout=60)
    except subprocess.TimeoutExpired:
        trial.kill()
        code = -9
    if code != 0:
        raise NoWindowError(
            "no window: the display has no usable OpenGL 3.2; install a driver "
            "(Debian: apt install libgl1 libgl1-mesa-dri) or start the display with GLX"
        )
