from pathlib import Path

import pytest

from stackview.commands.writing_together import is_marked, write_together
from stackview.errors import OutputError

MARKS = {".txt": b"# ours", ".pdf": b"by ours"}


def test_all_or_none(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "deep"
    write_together({folder / "a.txt": b"# ours 1", folder / "b.txt": b"# ours 2"}, MARKS)
    assert (folder / "a.txt").read_bytes() == b"# ours 1"
    (folder / "b.txt").write_bytes(b"somebody's")
    with pytest.raises(OutputError, match="not replaced"):
        write_together({folder / "a.txt": b"# ours 3", folder / "b.txt": b"# ours 4"}, MARKS)
    assert (folder / "a.txt").read_bytes() == b"# ours 1"
    assert sorted(file.name for file in folder.iterdir()) == ["a.txt", "b.txt"]


def test_a_link_or_a_folder_in_the_way_stays(tmp_path: Path) -> None:
    (tmp_path / "a.txt").mkdir()
    with pytest.raises(OutputError, match="no plain file"):
        write_together({tmp_path / "a.txt": b"# ours"}, MARKS)
    (tmp_path / "there.txt").write_bytes(b"# ours")
    (tmp_path / "b.txt").symlink_to(tmp_path / "there.txt")
    with pytest.raises(OutputError, match="no plain file"):
        write_together({tmp_path / "b.txt": b"# ours"}, MARKS)


def test_a_folder_made_in_vain_is_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> object:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("stackview.commands.writing_together.tempfile.mkstemp", full)
    with pytest.raises(OutputError, match="No space left on device"):
        write_together({tmp_path / "new" / "a.txt": b"# ours"}, MARKS)
    assert not (tmp_path / "new").exists()


def test_marks_stand_at_the_beginning_or_within_a_container(tmp_path: Path) -> None:
    for content, ours in (
        (b"# ours and more", True),
        (b"more # ours", False),
        (b"%PDF-1.4 by # ours", True),
        (b"glTF..# ours", True),
        (b"PK\x03\x04..# ours", True),
        (b"", False),
    ):
        (tmp_path / "file").write_bytes(content)
        assert is_marked(tmp_path / "file", b"# ours") is ours
