"""Where files cannot go is told before the work that makes them."""

import errno
import os
import shutil
import tempfile
from pathlib import Path
from types import SimpleNamespace

import pytest

from stackview.commands.place_check import check_folder
from stackview.errors import OutputError
from stackview.glow import engine, photograph
from stackview.study import Study


def test_a_folder_that_is_there_or_can_be_made_is_left_as_it_is(tmp_path: Path) -> None:
    check_folder(tmp_path)
    check_folder(tmp_path / "new" / "deep")
    assert not list(tmp_path.iterdir())


def test_a_file_in_its_place_or_above_it(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("mine")
    for folder in (tmp_path / "taken", tmp_path / "taken" / "deep"):
        with pytest.raises(
            OutputError,
            match="taken: cannot be written into, for it is a file, not a folder; choose another with --out",
        ):
            check_folder(folder)


def test_a_link_that_leads_nowhere(tmp_path: Path) -> None:
    (tmp_path / "lost").symlink_to(tmp_path / "gone")
    with pytest.raises(OutputError, match="lost: cannot be written into, for it leads nowhere"):
        check_folder(tmp_path / "lost")


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (errno.EACCES, "cannot be written into; make it writable, or choose another with --out"),
        (errno.EROFS, r"cannot be written into \(Read-only file system\); choose another with --out"),
        (errno.EDQUOT, r"cannot be written into \(Disk quota exceeded\); choose another with --out"),
    ],
)
def test_a_folder_that_takes_no_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, told: str
) -> None:
    def refuse(**_: object) -> object:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(tempfile, "TemporaryFile", refuse)
    with pytest.raises(OutputError, match=told):
        check_folder(tmp_path / "new")


def test_a_full_disk_says_what_is_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "disk_usage", lambda _: SimpleNamespace(free=300_000))
    with pytest.raises(
        OutputError, match=r"its disk has 0\.3 MB left, and at least 1 MB is needed; make room"
    ):
        check_folder(tmp_path)


@pytest.mark.parametrize(
    "words", [("preview",), ("picture",), ("drawings",), ("export",), ("sheets",), ("steps", "--page")]
)
def test_every_command_that_writes_asks_before_it_reads_the_lamp(  # type: ignore[no-untyped-def]
    run, starter: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    def never(*_: object, **__: object) -> object:
        raise AssertionError("the lamp was read before the folder was looked at")

    monkeypatch.setattr(Study, "read", never)
    taken = starter.parent / "taken"
    taken.write_text("mine")
    code, out, err = run(words[0], starter, *words[1:], "--out", taken)
    assert (code, out) == (2, "")
    assert (
        err == f"{taken}: cannot be written into, for it is a file, not a folder; choose another with --out\n"
    )


def test_glow_finish_and_demo_ask_too(  # type: ignore[no-untyped-def]
    run, starter: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object, **__: object) -> object:
        raise AssertionError("the work was begun before the folder was looked at")

    monkeypatch.setattr(Study, "read", never)
    monkeypatch.setattr(photograph, "read_photograph", never)
    monkeypatch.setattr(engine, "require", lambda: None)
    taken = starter.parent / "taken"
    taken.write_text("mine")
    told = f"{taken}: cannot be written into, for it is a file, not a folder; choose another with"
    given = ("--distance", "25", "--thickness", "4", "--scale", "0.25")
    for words in (
        ("glow", starter, "--out", taken),
        ("glow", starter, "--json", "--out", taken / "deep"),
        ("finish", starter, *given, "--out", taken / "entry.toml"),
    ):
        assert run(*words) == (2, "", f"{told} --out\n")
    assert run("demo", "kelp", "--to", taken) == (2, "", f"{told} --to\n")


def test_a_page_that_is_not_ours_is_seen_before_the_steps_are_worked_out(  # type: ignore[no-untyped-def]
    run, starter: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Study, "read", None)
    (starter.parent / "first-steps.html").write_text("mine")
    code, out, err = run("steps", starter, "--page")
    assert (code, out) == (2, "")
    assert "first-steps.html: not replaced, because stackview did not write it" in err
