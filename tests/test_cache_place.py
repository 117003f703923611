"""Where results are kept: the maker's own choice, the desktop specification, the platform's habit."""

import os
import subprocess
import sys
from pathlib import Path

import platformdirs
import pytest
from platformdirs.macos import MacOS
from platformdirs.windows import Windows

from stackview.cache_place import cache_folder, opened_entry

ON_LINUX = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the place on Linux")


@pytest.fixture(autouse=True)
def nobody_has_chosen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("STACKVIEW_CACHE")
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)


def test_the_maker_chooses(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "not here"))
    monkeypatch.setenv("STACKVIEW_CACHE", str(tmp_path))
    assert cache_folder() == tmp_path


def test_an_empty_choice_is_none(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("STACKVIEW_CACHE", "")
    assert cache_folder() == tmp_path / "stackview"


@ON_LINUX
def test_the_desktop_specification_is_followed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    # XDG Base Directory Specification 0.8; it has relative paths ignored.
    monkeypatch.setenv("HOME", str(tmp_path))
    assert cache_folder() == tmp_path / ".cache" / "stackview"
    monkeypatch.setenv("XDG_CACHE_HOME", "relative")
    assert cache_folder() == tmp_path / ".cache" / "stackview"
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "other"))
    assert cache_folder() == tmp_path / "other" / "stackview"


def test_other_platforms_have_their_own_place(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    # Apple's File System Programming Guide; Microsoft's known folder FOLDERID_LocalAppData.
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setattr(platformdirs, "PlatformDirs", MacOS)
    assert cache_folder() == tmp_path / "Library" / "Caches" / "stackview"
    monkeypatch.setattr(platformdirs, "PlatformDirs", Windows)
    monkeypatch.setattr("platformdirs.windows.get_win_folder", lambda _: str(tmp_path))
    assert cache_folder() == tmp_path / "stackview" / "Cache"


def test_nothing_is_made_by_asking(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    cache_folder()
    assert list(tmp_path.iterdir()) == []


@ON_LINUX
def test_without_a_home_there_is_no_place() -> None:
    # A user that no list names, as in a container: neither HOME nor the password file helps.
    if os.geteuid() != 0:
        pytest.skip("only root may become a user that no list names")
    code = (
        "import platformdirs, os\n"
        "from stackview.cache_place import cache_folder\n"
        "os.setuid(54321)\n"
        "print(cache_folder())\n"
    )
    without = {name: value for name, value in os.environ.items() if name != "HOME"}
    told = subprocess.run(
        [sys.executable, "-c", code], env=without, capture_output=True, text=True, check=True
    )
    assert told.stdout == "None\n"


@pytest.mark.skipif(os.name != "posix", reason="pipes and devices among files")
@pytest.mark.parametrize("kind", ["pipe", "device", "folder", "loop", "missing", "too large"])
def test_only_an_ordinary_file_of_a_bounded_size_is_an_entry(kind: str, tmp_path: Path) -> None:
    """A pipe would be waited for, and a device has no end."""
    file = tmp_path / "entry"
    match kind:
        case "pipe":
            os.mkfifo(file)
        case "device":
            file.symlink_to("/dev/zero")
        case "folder":
            file.mkdir()
        case "loop":
            file.symlink_to(file)
        case "too large":
            with file.open("wb") as sparse:
                sparse.truncate(2_000_000_001)
    with pytest.raises(OSError, match="entry"):
        opened_entry(file, 2_000_000_000)


def test_an_entry_is_read_to_its_end(tmp_path: Path) -> None:
    file = tmp_path / "entry"
    file.write_bytes(b"kept\r\n")
    with opened_entry(file, 6) as opened:
        assert opened.read() == b"kept\r\n"
