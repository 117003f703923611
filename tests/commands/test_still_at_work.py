"""On a pipe a line now and then says what is at work."""

import re
import sys

import pytest

from stackview.commands import still_at_work
from stackview.commands.progress import progress, stages
from stackview.commands.still_at_work import said_at_work, tell_no_more, tell_now_and_then
from tests.commands.programs import ended


def test_a_line_says_the_command_its_innermost_work_and_how_far_it_is() -> None:
    assert said_at_work("check", 10.2) == "check: at work (10 s so far)"
    with progress("pictures", 4) as step:
        step(1)
        step(1)
        assert said_at_work("preview", 20.0) == "preview: pictures, 2 of 4 (20 s so far)"
        with stages("glow", {"light": 1.0, "pictures": 1.0}) as begin:
            begin("light")(0.5)
            assert said_at_work("preview", 30.0) == "preview: glow: light; then pictures, 25% (30 s so far)"
        assert said_at_work("preview", 40.0) == "preview: pictures, 2 of 4 (40 s so far)"
    assert said_at_work("preview", 50.0) == "preview: at work (50 s so far)"


def test_work_that_fails_is_at_work_no_more() -> None:
    with pytest.raises(ZeroDivisionError), progress("points", 4):
        raise ZeroDivisionError
    assert said_at_work("sight", 1.0) == "sight: at work (1 s so far)"


def test_lines_come_now_and_then_until_they_are_ended(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STACKVIEW_PROGRESS", "0.01")
    tell_now_and_then("sheets")
    told = still_at_work._AtWork.ended
    assert told is not None
    found = ""
    while found.count("\n") < 3:
        found += capsys.readouterr().err
    tell_no_more()
    assert told.is_set()
    assert re.fullmatch(r"(sheets: at work \(\d+ s so far\)\n)+", found)


@pytest.mark.parametrize("every", ["0", "-1"])
def test_none_come_where_none_are_wanted(every: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(still_at_work._AtWork, "ended", None)
    monkeypatch.setenv("STACKVIEW_PROGRESS", every)
    tell_now_and_then("sheets")
    assert still_at_work._AtWork.ended is None


@pytest.mark.parametrize(("written", "every"), [("nonsense", 10.0), ("nan", 10.0), ("2.5", 2.5)])
def test_what_is_no_number_counts_as_not_given(
    written: str, every: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STACKVIEW_PROGRESS", written)
    assert still_at_work._every() == every


@pytest.mark.skipif(sys.platform == "win32", reason="a process of its own, as elsewhere")
def test_the_program_tells_on_standard_error_alone() -> None:
    code, out, err = ended("demo", env={"STACKVIEW_PROGRESS": "0.001"})
    assert code == 0
    assert "so far" not in out
    assert re.fullmatch(r"(demo: at work \(\d+ s so far\)\n)*", err)
