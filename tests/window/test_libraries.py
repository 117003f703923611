"""What is missing is said in one line, before anything can die."""

import sys

import pytest

from stackview.window.libraries import NoWindowError, check_window, display_answers, loads, what_is_missing

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="looks for libraries on Linux only")


@linux
def test_no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("DISPLAY", raising=False)
    missing = what_is_missing(off_screen=False, loads=lambda _name: True)
    assert missing is not None
    assert "DISPLAY" in missing
    assert "install" in missing
    assert "\n" not in missing
    with pytest.raises(NoWindowError, match="DISPLAY"):
        check_window()


@linux
@pytest.mark.parametrize("off_screen", [True, False])
def test_no_library(monkeypatch: pytest.MonkeyPatch, off_screen: bool) -> None:
    monkeypatch.setenv("DISPLAY", ":0")
    missing = what_is_missing(off_screen=off_screen, loads=lambda name: "GL.so" not in name)
    assert missing is not None
    assert "libGL.so.1" in missing
    assert "apt install" in missing
    assert "\n" not in missing
    assert what_is_missing(off_screen=off_screen, loads=lambda _name: True) is None


@linux
def test_a_display_that_does_not_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DISPLAY", ":4711")
    assert not display_answers()
    if what_is_missing(off_screen=False) is None:
        with pytest.raises(NoWindowError, match="4711"):
            check_window()


def test_a_library_that_is_not_there() -> None:
    assert not loads("libno-such-thing-at-all.so.9")
