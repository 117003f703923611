"""The command line as a whole: quick help, exit codes, no heavy library before its time."""

import subprocess
import sys

import pytest

from stackview.__main__ import main


@pytest.mark.parametrize(
    "argv", [["nope"], ["sight"], ["sight", "x.toml", "--nope"], ["sight", "x", "--fail-on", "much"]]
)
def test_wrong_use_is_exit_code_2(argv: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(argv) == 2
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize("argv", [["--help"], ["--version"], ["preview", "--help"], []])
def test_help_is_exit_code_0(argv: list[str]) -> None:
    assert main(argv) == 0


def loaded_by(code: str) -> set[str]:
    text = f"{code}\nimport sys\nprint(' '.join(sys.modules))"
    out = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=True).stdout
    return {name.partition(".")[0] for name in out.splitlines()[-1].split()}


HEAVY = {
    "numpy",
    "trimesh",
    "shapely",
    "manifold3d",
    "pyvista",
    "vtkmodules",
    "matplotlib",
    "ezdxf",
    "pydantic",
    "embreex",
    "PIL",
}


@pytest.mark.parametrize(
    "code", ["import stackview", "from stackview.__main__ import main; main(['--help'])"]
)
def test_nothing_heavy_is_loaded_before_it_is_used(code: str) -> None:
    assert not loaded_by(code) & HEAVY


def test_pictures_load_no_window_library() -> None:
    code = (
        "import stackview.stills.draw, stackview.drawings.sightline_map, stackview.drawings.section_drawing"
    )
    assert not loaded_by(code) & {"pyvista", "vtkmodules", "OpenGL"}
