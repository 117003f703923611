"""Nonsense in the shell's settings is taken away before a library meets it; sound settings stay."""

import logging
import os

import pytest

from stackview.commands.surroundings import mend_surroundings


@pytest.mark.parametrize("name", ["COLUMNS", "LINES"])
@pytest.mark.parametrize("written", ["", "-5", "0", "1", "²", "٤٢", "9" * 5000, "1e3", "wide", "99999"])
def test_sizes_that_no_terminal_has_are_taken_away(
    name: str, written: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MPLBACKEND", "nonsense")
    monkeypatch.setenv(name, written)
    mend_surroundings()
    assert name not in os.environ
    assert os.environ["MPLBACKEND"] == "agg"


def test_sound_sizes_stay(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MPLBACKEND", "qtagg")
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.setenv("LINES", "24")
    mend_surroundings()
    assert (os.environ["COLUMNS"], os.environ["LINES"]) == ("60", "24")
    assert logging.getLogger("matplotlib").level == logging.ERROR
