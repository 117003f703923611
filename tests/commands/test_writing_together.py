import subprocess
import sys
from pathlib import Path

import pytest

from stackview.commands.writing_together import is_marked, write_together
from stackview.errors import OutputError

ROOT = Path(__file__).parents[2]
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


OVER_AND_OVER = """
import sys
from pathlib import Path
from stackview.commands.writing_together import write_together
folder, name = Path(sys.argv[1]), sys.argv[2]
for number in range(25):
    content = f"# ours {name} {number} ".encode() * 500
    write_together({folder / f"{k}.txt": content for k in range(8)}, {".txt": b"# ours"})
"""


def test_two_that_write_at_once_leave_one_answer_whole(tmp_path: Path) -> None:
    both = [
        subprocess.Popen([sys.executable, "-c", OVER_AND_OVER, str(tmp_path), name], cwd=ROOT)
        for name in ("one", "other")
    ]
    # all files of one answer, all of the same size: a mixture would hold two kinds of content at the end
    assert [process.wait(timeout=120) for process in both] == [0, 0]
    found = {file.read_bytes() for file in tmp_path.glob("*.txt")}
    assert len(found) == 1
    content = found.pop().decode()
    assert content == content[: len(content) // 500] * 500
    assert sorted(file.name for file in tmp_path.iterdir()) == [f"{k}.txt" for k in range(8)]
