import errno
import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from stackview.commands.writing import check_ours, write_new_text, write_ours
from stackview.errors import OutputError

HEAD = "ours\r\n"


def test_line_ends_stay_and_our_own_file_is_replaced(tmp_path):
    target = tmp_path / "folder" / "lamp.ies"
    write_ours(target, HEAD + "one\r\n", HEAD)
    write_ours(target, HEAD + "two\r\n", HEAD)
    assert target.read_bytes() == b"ours\r\ntwo\r\n"
    assert [file.name for file in target.parent.iterdir()] == ["lamp.ies"]


@pytest.mark.parametrize("content", ["somebody's work\n", "somebody's work, with ours\r\n in it\n", ""])
def test_nothing_else_is_replaced(tmp_path, content):
    target = tmp_path / "lamp.ies"
    target.write_bytes(content.encode())
    for attempt in (lambda: check_ours(target, HEAD), lambda: write_ours(target, HEAD, HEAD)):
        with pytest.raises(OutputError, match="not replaced"):
            attempt()
    assert target.read_bytes() == content.encode()


def test_links_and_folders_are_not_replaced(tmp_path):
    (tmp_path / "own.ies").write_text(HEAD)
    (tmp_path / "link.ies").symlink_to(tmp_path / "own.ies")
    (tmp_path / "folder.ies").mkdir()
    for name in ("link.ies", "folder.ies"):
        with pytest.raises(OutputError, match="not replaced"):
            check_ours(tmp_path / name, HEAD)


@pytest.fixture
def no_links(monkeypatch):
    """A disk that knows no hard links and no rights, as FAT and many network shares."""

    def refuse(*_, **__):
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    monkeypatch.setattr(Path, "chmod", refuse)


@pytest.mark.usefixtures("no_links")
def test_a_disk_without_links_and_rights_takes_new_files(tmp_path):
    target = tmp_path / "folder" / "lamp.toml"
    write_new_text(target, "mine\n")
    assert target.read_text() == "mine\n"
    write_ours(tmp_path / "own", HEAD, HEAD)
    assert [file.name for file in target.parent.iterdir()] == ["lamp.toml"]


@pytest.mark.parametrize("links", [True, False])
def test_what_comes_to_stand_there_meanwhile_stays(tmp_path, monkeypatch, request, links):
    if not links:
        request.getfixturevalue("no_links")
    target = tmp_path / "lamp.toml"
    fdopen = os.fdopen

    def slow(*given, **named):
        target.write_text("somebody's")
        return fdopen(*given, **named)

    monkeypatch.setattr(os, "fdopen", slow)
    with pytest.raises(OutputError, match="there is already something of that name, and it is not replaced"):
        write_new_text(target, "mine\n")
    assert target.read_text() == "somebody's"
    assert [file.name for file in tmp_path.iterdir()] == ["lamp.toml"]


@pytest.mark.usefixtures("no_links")
def test_without_links_a_full_disk_leaves_nothing(tmp_path, monkeypatch):
    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OutputError, match="No space left on device"):
        write_new_text(tmp_path / "lamp.toml", "mine\n")
    assert not list(tmp_path.iterdir())


@pytest.mark.usefixtures("no_links")
def test_of_eight_at_once_without_links_one_writes(tmp_path):
    def one(number):
        try:
            write_new_text(tmp_path / "lamp.toml", f"{number}\n" * 2000)
        except OutputError:
            return None
        return number

    for _ in range(20):
        with ThreadPoolExecutor(8) as workers:
            wrote = [number for number in workers.map(one, range(8)) if number is not None]
        assert len(wrote) == 1
        assert (tmp_path / "lamp.toml").read_text() == f"{wrote[0]}\n" * 2000
        (tmp_path / "lamp.toml").unlink()
