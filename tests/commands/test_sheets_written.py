"""Files of a plan: marked as ours, named by their sheets, old ones told."""

from pathlib import Path

import pytest

from stackview.commands.sheets_written import write_sheets
from stackview.sheets.plan import sheet_plan
from stackview.shop.dxf_file import DXF_MARK
from stackview.shop.svg_file import SVG_MARK
from tests.sheets.flat_lamps import BOARD, moth


def test_bad_names_make_good_file_names(tmp_path: Path) -> None:
    study = moth(BOARD.replace('"board"', '"../con: *?"'))
    plan = sheet_plan(study, longest=0.1)
    written = write_sheets(plan, tmp_path / "out", "../x", study.lamp.units, paper="a4")
    names = sorted(file.name for file in (tmp_path / "out").iterdir())
    assert names == ["con-1.dxf", "con-1.svg", "x-sheets.pdf"]
    assert (tmp_path / "out" / "con-1.svg").read_text(encoding="utf-8").startswith(SVG_MARK)
    assert (tmp_path / "out" / "con-1.dxf").read_text(encoding="utf-8").startswith(DXF_MARK)
    assert len(written) == 2


@pytest.mark.slow
def test_old_drawings_are_told(tmp_path: Path) -> None:
    study = moth(BOARD.replace('"board"', '"con"'))
    write_sheets(sheet_plan(study, longest=0.1), tmp_path / "out", "x", study.lamp.units, paper="a4")
    other = moth(BOARD)
    told = write_sheets(
        sheet_plan(other, longest=0.1), tmp_path / "out", "../x", other.lamp.units, paper="a4"
    )
    assert any(line.endswith("con-1.dxf") and "older drawing" in line for line in told)


def test_nothing_is_written_without_a_sheet(tmp_path: Path) -> None:
    study = moth()
    assert write_sheets(sheet_plan(study), tmp_path / "out", "x", study.lamp.units, paper="a4") == ()
    assert not (tmp_path / "out").exists()
