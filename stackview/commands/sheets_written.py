"""The drawings of filled sheets as files, all of them or none."""

from pathlib import Path

from stackview.commands.progress import progress
from stackview.commands.writing_together import is_marked, write_together
from stackview.description.units import Units
from stackview.drawings.paper import PDF_CREATOR, Paper, pdf_bytes
from stackview.drawings.sheet_page import SheetNote, draw_sheet_page
from stackview.sheets.drawn import cuts_of_sheet, sheet_lines
from stackview.sheets.layout import SheetPlan
from stackview.shop.drawn_names import file_unit
from stackview.shop.dxf_file import DXF_MARK, dxf_text
from stackview.shop.file_names import file_names
from stackview.shop.svg_file import SVG_MARK, svg_text

_MARKS = {
    ".dxf": DXF_MARK.encode(),
    ".svg": SVG_MARK.encode(),
    ".pdf": f"/Creator ({PDF_CREATOR})".encode(),
}


def write_sheets(plan: SheetPlan, folder: Path, stem: str, units: Units, *, paper: str) -> tuple[str, ...]:
    """Draw and write every filled sheet; returns what was written, in words. Nothing without a filled sheet.

    Raises OutputError where files cannot be written, StackviewError for a sheet that no paper holds.
    """
    sheets = plan.sheets
    if not sheets:
        return ()
    whole = file_names([f"{stem} sheets"])
    stems = file_names([f"{one.sheet.name} {one.copy}" for one in sheets], taken=whole)
    unit = file_unit(units)
    contents: dict[Path, bytes] = {}
    pages: list[Paper] = []
    with progress("sheets", len(sheets)) as step:
        for number, (filled, name) in enumerate(zip(sheets, stems, strict=True), 1):
            cuts, lines = cuts_of_sheet(filled), sheet_lines(filled)
            marks = [line for one in filled.parts for line in one.marks]
            title = f"{plan.lamp}: {filled.words}"
            contents[folder / f"{name}.dxf"] = dxf_text(cuts, marks, unit, lines).encode()
            contents[folder / f"{name}.svg"] = svg_text(title, cuts, marks, unit, lines).encode()
            note = SheetNote(plan, number, len(sheets), name, units.alone)
            pages += draw_sheet_page(filled, note, paper=paper)
            step(1)
    target = folder / f"{whole[0]}.pdf"
    contents[target] = pdf_bytes(pages, f"{plan.lamp}: sheets")
    write_together(contents, _MARKS)
    return (
        f"Wrote {target}",
        f"Wrote {len(sheets)} DXF and {len(sheets)} SVG files into {folder}",
        *(
            f"An older drawing of a sheet that is not filled now: {old}"
            for old in _older(folder, set(contents))
        ),
    )


def _older(folder: Path, new: set[Path]) -> list[Path]:
    return sorted(
        file
        for ending in (".dxf", ".svg")
        for file in folder.glob(f"*{ending}")
        if file not in new and file.is_file() and is_marked(file, _MARKS[ending])
    )
