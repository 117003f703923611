"""The command: its answer, its files, and what it refuses with nothing half-written."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.sheets.flat_lamps import BOARD, KNOT, MOTH

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def lamp(tmp_path: Path) -> Path:
    file = tmp_path / "moth.toml"
    file.write_text(MOTH + KNOT + BOARD, encoding="utf-8")
    return file


def test_it_says_where_parts_lie_and_writes_a_drawing_of_each_sheet(lamp: Path, run: Run) -> None:
    code, out, err = run("sheets", lamp, "--longest", 0.2)
    assert code == 0
    assert err.startswith("A first layout after ")
    assert "Ctrl-C keeps the best so far" in err
    assert "The file lists no sheet of it" in out
    folder = lamp.parent / "moth-sheets"
    names = sorted(file.name for file in folder.iterdir())
    assert names == ["board-1.dxf", "board-1.svg", "moth-sheets.pdf", "offcut-1.dxf", "offcut-1.svg"]


@pytest.mark.slow
def test_again_over_its_own_files(lamp: Path, run: Run) -> None:
    assert run("sheets", lamp, "--longest", 0.2)[0] == run("sheets", lamp, "--longest", 0.2)[0] == 0


def test_json_prints_one_object_and_writes_nothing(lamp: Path, run: Run) -> None:
    code, out, err = run("sheets", lamp, "--json", "--longest", 0.2)
    assert (code, err) == (0, "")
    assert json.loads(out)["lamps"] == 1
    assert list(lamp.parent.iterdir()) == [lamp]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("--lamps", "0"), "0 lamps: give a whole number"),
        (("--longest", "0"), "--longest 0: give seconds, more than 0 and at most 3600"),
        (("--longest", "nan"), "--longest nan: give seconds"),
        (("--paper", "b5"), "paper"),
    ],
)
def test_bad_arguments(lamp: Path, run: Run, arguments: tuple[str, ...], says: str) -> None:
    code, _, err = run("sheets", lamp, *arguments)
    assert code == 2
    assert says in err
    assert list(lamp.parent.iterdir()) == [lamp]


def test_what_is_not_ours_stands_in_the_way(lamp: Path, run: Run) -> None:
    folder = lamp.parent / "moth-sheets"
    folder.mkdir()
    (folder / "board-1.svg").write_text("mine", encoding="utf-8")
    code, _, err = run("sheets", lamp, "--longest", 0.2)
    assert code == 2
    assert "board-1.svg: not replaced, because stackview did not write it" in err
    assert [file.name for file in folder.iterdir()] == ["board-1.svg"]
    assert (folder / "board-1.svg").read_text(encoding="utf-8") == "mine"


@pytest.mark.slow
def test_a_file_where_the_folder_should_be(lamp: Path, run: Run) -> None:
    (lamp.parent / "moth-sheets").write_text("a note", encoding="utf-8")
    code, _, err = run("sheets", lamp, "--longest", 0.2)
    assert code == 2
    assert err.count("Traceback") == 0
    assert (lamp.parent / "moth-sheets").read_text(encoding="utf-8") == "a note"


def test_a_part_larger_than_every_sheet(lamp: Path, run: Run) -> None:
    lamp.write_text(MOTH + BOARD.replace("600, 180", "150, 180"), encoding="utf-8")
    code, out, err = run("sheets", lamp)
    assert (code, out) == (2, "")
    assert 'base: "board" (150 mm × 180 mm, margin 8 mm) is short by 26 mm along the grain' in err
    assert list(lamp.parent.iterdir()) == [lamp]
