import pytest

from stackview.commands.writing import check_ours, write_ours
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
