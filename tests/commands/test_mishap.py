"""A fault of ours is told in one line, and its details are kept where the line says."""

import re
from pathlib import Path

import pytest

from stackview import __version__
from stackview.commands import mishap
from stackview.commands.mishap import told


def failing() -> ZeroDivisionError:
    try:
        1 // 0  # noqa: B018
    except ZeroDivisionError as error:
        return error
    raise AssertionError


def test_one_line_names_the_file_and_the_file_names_version_command_and_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path))
    said = told(failing(), ["check", "a lamp.toml", "\x1b[2J"])
    assert "\n" not in said
    (kept,) = (tmp_path / "mishaps").iterdir()
    assert str(kept) in said
    text = kept.read_text("utf-8")
    assert f"stackview {__version__}" in text
    assert r"stackview 'check' 'a lamp.toml' '\x1b[2J'" in text
    assert "in failing" in text
    assert "ZeroDivisionError" in text
    assert "ZeroDivisionError" in said


def test_the_last_twenty_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path))
    for _ in range(25):
        told(failing(), [])
    assert len(list((tmp_path / "mishaps").iterdir())) == 20


def test_another_folder_where_the_cache_takes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path / "file" / "below"))
    monkeypatch.setattr(mishap.tempfile, "gettempdir", lambda: str(tmp_path / "other"))
    said = told(failing(), [])
    found = re.search(r"is in (.*?\.txt):", said)
    assert found is not None
    assert Path(found[1]).is_relative_to(tmp_path / "other")


def test_no_folder_at_all_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path / "file" / "below"))
    monkeypatch.setattr(mishap.tempfile, "gettempdir", lambda: str(tmp_path / "file"))
    assert "STACKVIEW_CACHE" in told(failing(), [])


def test_a_long_reason_with_controls_stays_one_line() -> None:
    said = told(ValueError("\x1b[2J" + "long\n" * 10_000), [])
    assert said.isprintable()
    assert len(said) < 800
