"""What is said of the drawings, and templates that would take too many sheets."""

from pathlib import Path

import pytest

from stackview.__main__ import main

LAMP = """
name = "Door"
unit = "m"
[materials.oak]
wood = "white oak"
measured = "18 mm"
[[layer]]
name = "leaf"
material = "oak"
outline = {{ rectangle = [{width}, {depth}] }}
"""


def test_a_template_of_too_many_sheets_is_refused_with_their_number(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "door.toml"
    file.write_text(LAMP.format(width=2.0, depth=2.5), encoding="utf-8")
    assert main(["drawings", str(file), "--templates", "--paper", "a4"]) == 2
    # (2004 − 15) / 175 → 12 across, (2504 − 15) / 246 → 11 up
    assert "its template would take 132 sheets; 100 are the most" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == [file]


def test_the_table_says_pieces_scale_and_files(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "door.toml"
    file.write_text(LAMP.format(width=0.3, depth=0.2), encoding="utf-8")
    assert main(["drawings", str(file)]) == 0
    (row,) = (line for line in capsys.readouterr().out.splitlines() if line.lstrip().startswith("leaf"))
    assert row.split() == ["leaf", "1", "1:2", "leaf.dxf,", ".svg"]
