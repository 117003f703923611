import errno
import os
import stat
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from stackview.errors import OutputError
from stackview.stills.png import check_target, is_ours, write_png

PICTURE = np.arange(4 * 5 * 3, dtype=np.uint8).reshape(4, 5, 3)


def test_pixels_and_text_come_back(tmp_path):
    target = tmp_path / "lamp.png"
    write_png(PICTURE, target, {"Title": "Moor Drum"})
    with Image.open(target) as opened:
        assert np.array_equal(np.asarray(opened), PICTURE)
        assert opened.info["Title"] == "Moor Drum"
        assert opened.info["Software"] == "stackview"
    assert is_ours(target)
    assert b"tEXtSoftware\x00stackview" in target.read_bytes()
    assert [path.name for path in tmp_path.iterdir()] == ["lamp.png"]


def test_same_picture_gives_the_same_bytes(tmp_path):
    write_png(PICTURE, tmp_path / "a.png", {"Title": "ö"})
    write_png(PICTURE, tmp_path / "b.png", {"Title": "ö"})
    assert (tmp_path / "a.png").read_bytes() == (tmp_path / "b.png").read_bytes()


def test_its_own_picture_is_replaced_and_the_mark_cannot_be_overwritten(tmp_path):
    target = tmp_path / "lamp.png"
    write_png(PICTURE, target, {})
    write_png(PICTURE[::-1], target, {"Software": "another"})
    assert is_ours(target)
    with Image.open(target) as opened:
        assert np.array_equal(np.asarray(opened), PICTURE[::-1])


@pytest.mark.parametrize("content", [b"", b"my holiday", b"\x89PNG\r\n\x1a\nbroken"])
def test_a_strange_file_is_left_alone(tmp_path, content):
    target = tmp_path / "lamp.png"
    target.write_bytes(content)
    with pytest.raises(OutputError, match="did not write it"):
        write_png(PICTURE, target, {})
    assert target.read_bytes() == content
    assert len(list(tmp_path.iterdir())) == 1


def test_another_programs_picture_is_left_alone(tmp_path):
    target = tmp_path / "lamp.png"
    Image.fromarray(PICTURE).save(target)
    with pytest.raises(OutputError, match="did not write it"):
        check_target(target)


def test_a_folder_in_its_place_is_named(tmp_path):
    with pytest.raises(OutputError, match="folder stands"):
        write_png(PICTURE, tmp_path, {})


def test_a_missing_folder_is_made_and_one_that_cannot_be_is_an_error(tmp_path):
    write_png(PICTURE, tmp_path / "new" / "lamp.png", {})
    (tmp_path / "file").write_text("x")
    with pytest.raises(OutputError, match="cannot be written"):
        write_png(PICTURE, tmp_path / "file" / "lamp.png", {})


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_folder_is_an_error(tmp_path):
    tmp_path.chmod(stat.S_IRUSR | stat.S_IXUSR)
    with pytest.raises(OutputError, match="cannot be written"):
        write_png(PICTURE, tmp_path / "lamp.png", {})


def test_a_full_disk_leaves_the_old_picture_and_nothing_else(tmp_path, monkeypatch):
    target = tmp_path / "lamp.png"
    write_png(PICTURE, target, {})
    before = target.read_bytes()

    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OutputError, match="No space left on device") as caught:
        write_png(PICTURE[::-1], target, {})
    assert "\n" not in str(caught.value)
    assert target.read_bytes() == before
    assert len(list(tmp_path.iterdir())) == 1


@pytest.mark.skipif(os.name != "posix", reason="modes are POSIX")
def test_mode_is_that_of_any_new_file(tmp_path):
    (tmp_path / "plain").write_text("x")
    write_png(PICTURE, tmp_path / "lamp.png", {})
    assert (tmp_path / "lamp.png").stat().st_mode == (tmp_path / "plain").stat().st_mode


@pytest.mark.parametrize("name", ["lamp.jpg", "lamp", "lamp.png.txt"])
def test_a_name_that_promises_something_else_is_refused(tmp_path, name):
    with pytest.raises(OutputError, match=r"ends in \.png"):
        write_png(np.zeros((2, 2, 3), np.uint8), tmp_path / name)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("picture", ["abc", None, np.zeros((4, 4, 3)), np.zeros((4, 4), np.uint8)])
def test_what_is_no_picture_is_not_saved(picture: object, tmp_path: Path) -> None:
    with pytest.raises(OutputError, match=r"what is saved is a picture"):
        write_png(picture, tmp_path / "a.png")  # type: ignore[arg-type]
    assert not list(tmp_path.iterdir())
