"""Libraries that are not there: one line that names them and says how to install them, exit code 2."""

import sys
from pathlib import Path

import pytest

from stackview.commands.missing_library import missing_library
from tests.commands.programs import ended


@pytest.mark.parametrize("argv", [[], ["--help"], ["preview", "lamp.toml"], ["check", "--list"]])
def test_a_python_without_any_library_names_the_first(argv: list[str]) -> None:
    code, out, told = ended(*argv, python=("-S",))
    assert (code, out) == (2, "")
    assert told.count("\n") == 1
    assert told.startswith("the library cyclopts, which stackview needs, is not installed for this Python")
    assert f"{sys.executable} -m pip install " in told


def test_a_library_is_named_as_it_is_installed() -> None:
    words = missing_library(ModuleNotFoundError("No module named 'PIL'", name="PIL"))
    assert words is not None
    assert words.startswith("the library pillow, which stackview needs, is not installed")


@pytest.mark.parametrize(
    "error",
    [
        ImportError("libGL.so.1: cannot open\nshared object file", name="vtkmodules.vtkRenderingCore"),
        ModuleNotFoundError("No module named 'vtkmodules.vtkNew'", name="vtkmodules.vtkNew"),
        ImportError("cannot import name 'App' from 'vtkmodules' (old)", name="vtkmodules"),
    ],
)
def test_a_library_that_is_there_but_does_not_load_says_why(error: ImportError) -> None:
    words = missing_library(error)
    assert words is not None
    assert words.isprintable()
    assert words.startswith("the library vtk, which stackview needs, cannot be loaded (")
    assert str(error).split("\n")[0] in words


def test_a_library_is_named_though_another_tells_of_it() -> None:
    outer = ImportError("Cannot import module 'stackview.commands.keys'")
    outer.__cause__ = ModuleNotFoundError("No module named 'numpy'", name="numpy")
    words = missing_library(outer)
    assert words is not None
    assert words.startswith("the library numpy")


@pytest.mark.parametrize(
    "error",
    [
        ModuleNotFoundError("No module named 'stackview.solids.gone'", name="stackview.solids.gone"),
        ImportError("cannot import name 'gone' from 'stackview.errors'", name="stackview.errors"),
        ImportError("nobody knows"),
    ],
)
def test_a_file_of_ours_is_no_library(error: ImportError) -> None:
    assert missing_library(error) is None


def test_the_details_of_a_fault_are_kept_without_the_library_that_knows_where(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from stackview.commands import mishap

    monkeypatch.delenv("STACKVIEW_CACHE")
    monkeypatch.setitem(sys.modules, "platformdirs", None)
    monkeypatch.setattr(mishap.tempfile, "gettempdir", lambda: str(tmp_path))
    assert str(tmp_path) in mishap.told(ZeroDivisionError("x"), [])
