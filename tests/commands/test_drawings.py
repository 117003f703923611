"""``stackview drawings``: what is written where, and what stands in its way."""

import os
from io import StringIO
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pytest

from stackview.__main__ import main

LAMP = """
name = "Two"
unit = "mm"
[materials.oak]
wood = "white oak"
measured = 18
[[layer]]
name = "../base"
material = "oak"
outline = { rectangle = [60, 40] }
[[layer]]
name = "lid"
material = "oak"
outline = { circle = 50 }
opening = { circle = 6, at = [10, 0] }
turn = 10
"""


@pytest.fixture
def lamp(tmp_path: Path) -> Path:
    file = tmp_path / "two.toml"
    file.write_text(LAMP, encoding="utf-8")
    return file


def test_every_part_has_its_files_and_they_are_written_again(
    lamp: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for _ in range(2):
        assert main(["drawings", str(lamp), "--templates"]) == 0
    folder = lamp.parent / "two-drawings"
    assert sorted(file.name for file in folder.iterdir()) == [
        "base.dxf", "base.svg", "lid.dxf", "lid.svg", "two-drawings.pdf", "two-templates.pdf",
    ]  # fmt: skip
    said = capsys.readouterr().out
    assert "Wrote 2 DXF and 2 SVG files" in said
    assert "2:1" not in said.split("lid")[0].split("base")[0]
    drawing = ezdxf.read(StringIO((folder / "lid.dxf").read_text(encoding="utf-8")))
    assert not drawing.audit().errors
    assert {entity.dxf.layer for entity in drawing.modelspace()} == {"OUTLINE", "OPENING", "INDEX"}
    ElementTree.parse(folder / "lid.svg")
    assert (folder / "two-drawings.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize("name", ["base.dxf", "lid.svg", "two-drawings.pdf"])
def test_a_file_that_is_not_ours_stays_and_nothing_is_written(
    lamp: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = lamp.parent / "out"
    folder.mkdir()
    (folder / name).write_bytes(b"%PDF-1.4 mine")
    assert main(["drawings", str(lamp), "--out", str(folder)]) == 2
    assert [file.name for file in folder.iterdir()] == [name]
    assert (folder / name).read_bytes() == b"%PDF-1.4 mine"
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "stackview did not write it" in said


def test_an_older_drawing_of_a_part_that_is_gone_is_told(
    lamp: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["drawings", str(lamp)]) == 0
    lamp.write_text(LAMP.replace('"lid"', '"cap"'), encoding="utf-8")
    assert main(["drawings", str(lamp)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "An older drawing that no part of this lamp has now" in said
    assert "lid.dxf" in said.split("An older drawing")[1]


@pytest.mark.skipif(os.name != "posix", reason="a file in the folder's place")
def test_a_folder_that_cannot_be_made_is_one_message(lamp: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (lamp.parent / "file").write_text("mine")
    assert main(["drawings", str(lamp), "--out", str(lamp.parent / "file" / "sub")]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "--out" in said


def test_what_is_cut_from_below_has_files_of_its_own_mirrored(lamp: Path) -> None:
    pocket = 'recess = { face = "underside", depth = 3, outline = { circle = 8, at = [15, 5] } }\n'
    text = lamp.read_text(encoding="utf-8").replace('name = "lid"', f'{pocket}name = "lid"')
    lamp.write_text(text + '[[layer]]\nname = "lid-underside"\nmaterial = "oak"\noutline = { circle = 50 }\n')
    assert main(["drawings", str(lamp)]) == 0
    folder = lamp.parent / "two-drawings"
    # a part that is called so keeps its name
    assert (folder / "lid-underside.dxf").exists()
    drawing = ezdxf.read(StringIO((folder / "lid-underside-2.dxf").read_text(encoding="utf-8")))
    assert not drawing.audit().errors
    centres = {
        entity.dxf.layer: tuple(entity.dxf.center)[:2] for entity in drawing.modelspace().query("CIRCLE")
    }
    assert centres["RECESS_UNDERSIDE_3mm"] == pytest.approx((-15.0, 5.0))
    assert centres["OPENING"] == pytest.approx((-10.0, 0.0))
    ElementTree.parse(folder / "lid-underside-2.svg")
