"""``stackview view`` where it cannot open a window, and what it watches and saves where it can."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from stackview.commands.view import watched
from stackview.study import Study
from tests.commands.conftest import DEMOS

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="about X displays")


@linux
@pytest.mark.parametrize("display", [None, ":4711"])
def test_no_display_is_one_line_and_exit_2(display: str | None) -> None:
    environment = {name: value for name, value in os.environ.items() if name != "DISPLAY"}
    if display is not None:
        environment["DISPLAY"] = display
    made = subprocess.run(
        [sys.executable, "-m", "stackview", "view", str(DEMOS / "moor-drum.toml")],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 2
    assert made.stdout == ""
    assert made.stderr.count("\n") == 1
    assert "install" in made.stderr


@linux
def test_no_library_is_one_line_and_exit_2(run, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    from stackview.window import libraries

    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setattr(libraries.ctypes, "CDLL", _absent)
    code, out, err = run("view", DEMOS / "moor-drum.toml")
    assert (code, out) == (2, "")
    assert "libGL.so.1" in err
    assert err.count("\n") == 1


def _absent(name: str) -> None:
    raise OSError(f"{name}: cannot open shared object file")


def test_absurd_sizes_are_refused(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    code, _, err = run("view", starter, "--width", "10")
    assert code == 2
    assert "width 10" in err


def test_curve_files_beside_the_lamp_are_watched(tmp_path: Path) -> None:
    lamp = tmp_path / "kelp.toml"
    lamp.write_bytes((DEMOS / "kelp.toml").read_bytes())
    (tmp_path / "kelp.svg").write_bytes((DEMOS / "kelp.svg").read_bytes())
    (tmp_path / "other.svg").write_text("<svg/>")
    study = Study.read(lamp)
    assert watched(lamp, study) == (lamp, tmp_path / "kelp.svg")
    gone = tmp_path / "missing" / "kelp.toml"
    assert watched(gone, study) == (gone,)


def test_help_needs_no_window_and_no_toolkit() -> None:
    code = (
        "import sys; from stackview.__main__ import main; main(['view', '--help']);"
        "sys.exit(any(name.startswith(('vtkmodules', 'pyvista')) for name in sys.modules))"
    )
    made = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert made.returncode == 0
    assert "turn" in made.stdout.lower()
