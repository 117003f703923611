"""Where results are kept: the maker's own choice, the desktop specification, the platform's habit."""

from pathlib import Path

import pytest

from stackview import cache_place
from stackview.cache_place import cache_folder


def test_the_maker_chooses(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path))
    assert cache_folder() == tmp_path


def test_the_desktop_specification_is_followed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    # XDG Base Directory Specification 0.8; it has relative paths ignored.
    monkeypatch.delenv("STACKVIEW_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_folder() == tmp_path / "stackview"
    monkeypatch.setenv("XDG_CACHE_HOME", "relative")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setattr(cache_place.sys, "platform", "linux")
    assert cache_folder() == tmp_path / ".cache" / "stackview"


def test_other_platforms_have_their_own_place(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("STACKVIEW_CACHE")
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setattr(cache_place.sys, "platform", "darwin")
    assert cache_folder() == tmp_path / "Library" / "Caches" / "stackview"
    monkeypatch.setattr(cache_place.sys, "platform", "win32")
    monkeypatch.delenv("LOCALAPPDATA", raising=False)
    assert cache_folder() is None
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    assert cache_folder() == tmp_path / "stackview" / "Cache"
