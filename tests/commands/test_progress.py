"""Progress: no bar on a pipe, and on a terminal only for what takes longer than a second."""

import sys
import time

import pytest

from stackview.commands import progress as module
from stackview.commands.progress import progress, stages


class Terminal:
    """Standard error that says it is a terminal and keeps what is written."""

    def __init__(self) -> None:
        self.text = ""

    def write(self, text: str) -> int:
        self.text += text
        return len(text)

    def flush(self) -> None:
        pass

    def isatty(self) -> bool:
        return True


def on_a_terminal(monkeypatch: pytest.MonkeyPatch, patience: float = -1.0) -> Terminal:
    """Called within a test: pytest puts its own standard error back after every fixture."""
    made = Terminal()
    monkeypatch.setattr(sys, "stderr", made)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.setattr(module, "_PATIENCE", patience)
    return made


def test_on_a_pipe_nothing_is_written(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "_PATIENCE", -1.0)
    with progress("points", 3) as step:
        step(3)
    with stages("glow", {"pictures": 1.0}) as begin:
        begin("pictures")(1.0)
    assert capsys.readouterr() == ("", "")


def test_short_work_shows_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_a_terminal(monkeypatch, patience=1.0)
    with progress("points", 3) as step:
        step(3)
    assert terminal.text == ""


def test_long_work_shows_its_steps(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_a_terminal(monkeypatch)
    with progress("points", 4) as step:
        step(1)
        step(2)
    assert "points" in terminal.text
    assert "3 of 4" in terminal.text


def test_a_share_is_shown_in_per_cent(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_a_terminal(monkeypatch)
    with stages("glow", {"pictures": 1.0}) as begin:
        done = begin("pictures")
        done(0.25)
        done(0.5)
    assert "50%" in terminal.text


def test_the_bar_ends_where_the_work_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_a_terminal(monkeypatch)

    def fails() -> None:
        with progress("points", 4) as step:
            step(1)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fails()
    # The cursor is shown again: ECMA-48 private mode 25.
    assert terminal.text.rfind("\x1b[?25h") > terminal.text.rfind("\x1b[?25l")


def test_a_bar_over_several_pieces_says_what_is_done_and_what_comes(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_a_terminal(monkeypatch)
    with stages("glow", {"hot spots": 3.0, "pictures": 1.0}) as begin:
        told = begin("hot spots")
        told(0.5)
        told = begin("pictures")
        told(1.0)
    assert "glow: hot spots; then pictures" in terminal.text
    assert "glow: pictures " in terminal.text
    # Half of three quarters, and in the end all.
    assert "100%" in terminal.text


def test_one_bar_is_shown_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_a_terminal(monkeypatch)
    with progress("checks", 9) as outer:
        outer(1)
        before = len(terminal.text)
        with progress("straight lines", 5) as inner:
            inner(2)
            time.sleep(0.25)  # a bar that is on the screen draws itself ten times a second
        within = terminal.text[before:]
        outer(3)
    assert "1 of 9" in terminal.text[:before]
    assert "2 of 5" in within
    assert "of 9" not in within.split("2 of 5", 1)[1]
    assert "4 of 9" in terminal.text[before + len(within) :]


def test_what_goes_into_a_file_does_not_come_by_the_bar(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    terminal = on_a_terminal(monkeypatch)
    with progress("trying what would mend it", 2) as step:
        step(1)
        print("Mend: so")
        step(1)
    assert capsys.readouterr().out == "Mend: so\n"
    assert "Mend" not in terminal.text
