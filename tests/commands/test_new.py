"""``stackview new``: a starter that works and never lands on somebody's work."""

import shlex
from pathlib import Path

import pytest

from stackview.description.reading import read_lamp


@pytest.mark.slow
def test_starter_works_and_is_short(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    lines = [line for line in starter.read_text().splitlines() if line.strip()]
    assert 10 <= len(lines) <= 24
    assert read_lamp(starter).lights
    code, out, _ = run("sight", starter)
    assert code == 0
    assert "light points" in out


def test_writing_the_same_again_is_no_trouble(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    assert run("new", starter)[0] == 0


def test_a_changed_file_is_never_replaced(run, starter: Path) -> None:  # type: ignore[no-untyped-def]
    starter.write_text("name = 'mine'\n")
    code, _, err = run("new", starter)
    assert code == 2
    assert "not replaced" in err
    assert starter.read_text() == "name = 'mine'\n"


def test_no_folder_to_write_to(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    (tmp_path / "file").write_text("")
    code, _, err = run("new", tmp_path / "file" / "lamp.toml")
    assert code == 2
    assert len(err.splitlines()) == 1


def test_ending_is_added(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    assert run("new", tmp_path / "lamp")[0] == 0
    assert (tmp_path / "lamp.toml").exists()


def test_a_folder_is_no_file_name(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    code, _, err = run("new", tmp_path)
    assert code == 2
    assert "is a folder" in err


def test_the_command_that_is_told_can_be_typed_as_it_stands(run, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    code, out, _ = run("new", tmp_path / 'the maker\'s "own" $lamp.toml')
    assert code == 0
    typed = shlex.split(out.partition("then: ")[2])
    assert typed == ["stackview", "preview", str(tmp_path / 'the maker\'s "own" $lamp.toml')]
