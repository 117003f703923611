"""One demo lamp made ready once, and an off-screen stage where the machine can draw one."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from stackview.study import Study
from stackview.window.libraries import what_is_missing
from stackview.window.shown import Shown, prepared

DEMOS = Path(__file__).parents[2] / "demos"
OFF_SCREEN = """
import os
os.environ["VTK_DEFAULT_OPENGL_WINDOW"] = "vtkEGLRenderWindow"
import vtkmodules.vtkRenderingOpenGL2
from vtkmodules.vtkRenderingCore import vtkRenderWindow
window = vtkRenderWindow()
window.SetOffScreenRendering(True)
raise SystemExit(0 if window.SupportsOpenGL() else 3)
"""


def ready(name: str) -> Shown:
    return prepared(Study.read(DEMOS / f"{name}.toml", bearings=360))


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Baked light is kept in a folder of the tests' own."""
    before = os.environ.get("STACKVIEW_CACHE")
    os.environ["STACKVIEW_CACHE"] = str(tmp_path_factory.mktemp("light"))
    yield
    if before is None:
        del os.environ["STACKVIEW_CACHE"]
    else:
        os.environ["STACKVIEW_CACHE"] = before


@pytest.fixture(scope="session")
def honeycomb(_own_cache: None) -> Shown:
    return ready("honeycomb")


@pytest.fixture(scope="session")
def moor_drum(_own_cache: None) -> Shown:
    return ready("moor-drum")


@pytest.fixture(scope="session")
def can_draw() -> None:
    """Skip where no off-screen window can be had; tried in another process, for it may die by a signal."""
    missing = what_is_missing(off_screen=True)
    if missing is None:
        tried = subprocess.run([sys.executable, "-c", OFF_SCREEN], capture_output=True, timeout=60)
        missing = None if tried.returncode == 0 else "no window can be opened off screen"
    if missing is not None:
        pytest.skip(missing)
