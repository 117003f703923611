"""The drawings of a lamp as files, all of them or none, and what is said of them on the terminal."""

from pathlib import Path

from rich import box
from rich.console import Console
from rich.table import Table

from stackview.commands.progress import progress
from stackview.commands.writing_together import is_marked, write_together
from stackview.drawings.paper import PDF_CREATOR, Paper, pdf_bytes
from stackview.drawings.part_page import draw_part_page
from stackview.drawings.rod_page import draw_rod_page
from stackview.drawings.templates import MOST_SHEETS, draw_templates, sheet_count
from stackview.drawings.title_block import PageNote, scale_words
from stackview.errors import StackviewError
from stackview.shop.drawn_names import file_unit
from stackview.shop.dxf_file import DXF_MARK, dxf_text
from stackview.shop.file_names import file_names
from stackview.shop.part_sheet import PartSheet, part_sheets
from stackview.shop.rod_sheet import RodSheet, rod_sheets
from stackview.shop.svg_file import SVG_MARK, svg_text
from stackview.study import Study

_MARKS = {
    ".dxf": DXF_MARK.encode(),
    ".svg": SVG_MARK.encode(),
    ".pdf": f"/Creator ({PDF_CREATOR})".encode(),
}


def write_drawings(
    screen: Console, study: Study, folder: Path, stem: str, *, paper: str, templates: bool
) -> None:
    """Draw and write every different part, and say what was written.

    Raises LampError where the lamp cannot be built, OutputError where files cannot be written,
    StackviewError for a part that no sheet holds.
    """
    sheets = part_sheets(study)
    whole = file_names([f"{stem} drawings", f"{stem} templates"])
    stems = file_names([sheet.layer.name for sheet in sheets], taken=whole)
    contents: dict[Path, bytes] = {}
    below = _below_names(sheets, stems, whole)
    rods = rod_sheets(study)
    pages = _pages(study, sheets, rods, (stems, below), paper)
    contents[folder / f"{whole[0]}.pdf"] = pdf_bytes(
        [page for some, _ in pages for page in some], f"{study.lamp.name}: drawings"
    )
    unit = file_unit(study.lamp.units)
    for sheet, name, under in zip(sheets, stems, below, strict=True):
        marks = [mark.line for mark in sheet.marks]
        title = f"{study.lamp.name}: {sheet.title}"
        contents[folder / f"{name}.dxf"] = dxf_text(sheet.cuts, marks, unit).encode()
        contents[folder / f"{name}.svg"] = svg_text(title, sheet.cuts, marks, unit).encode()
        if sheet.is_cut_from_below:
            marks = [mark.line for mark in sheet.from_below.marks]
            title = f"{title}, seen from below"
            contents[folder / f"{under}.dxf"] = dxf_text(sheet.below_alone, marks, unit).encode()
            contents[folder / f"{under}.svg"] = svg_text(title, sheet.below_alone, marks, unit).encode()
    if templates:
        contents[folder / f"{whole[1]}.pdf"] = _templates(study, sheets, paper)
    write_together(contents, _MARKS)
    screen.print(_table(sheets, rods, (stems, below), [scale for _, scale in pages]))
    for target in contents:
        if target.suffix == ".pdf":
            screen.print(f"Wrote {target}", soft_wrap=True)
    count = sum(target.suffix == ".dxf" for target in contents)
    screen.print(f"Wrote {count} DXF and {count} SVG files into {folder}", soft_wrap=True)
    for old in _older(folder, set(contents)):
        screen.print(f"An older drawing that no part of this lamp has now: {old}", soft_wrap=True)


_Names = tuple[tuple[str, ...], tuple[str, ...]]
"""For each part the names of its files, and of those of its underside."""


def _below_names(
    sheets: tuple[PartSheet, ...], stems: tuple[str, ...], whole: tuple[str, ...]
) -> tuple[str, ...]:
    """For each part the name of its underside's files; empty where nothing is cut from there."""
    taken, found = [*whole, *stems], []
    for sheet, stem in zip(sheets, stems, strict=True):
        name = file_names([f"{stem} underside"], taken=taken)[0] if sheet.is_cut_from_below else ""
        found.append(name)
        taken.append(name)
    return tuple(found)


def _pages(
    study: Study,
    sheets: tuple[PartSheet, ...],
    rods: tuple[RodSheet, ...],
    names: _Names,
    paper: str,
) -> list[tuple[list[Paper], float]]:
    lamp = study.lamp
    found = []
    every = len(sheets) + len(rods)
    with progress("drawings", every) as step:
        for number, (sheet, name, under) in enumerate(zip(sheets, *names, strict=True), 1):
            note = PageNote(lamp.name, 1.0, number, every, name, lamp.units.alone, under)
            page = draw_part_page(sheet, note, paper=paper, cutter=lamp.cutter, chord_error=lamp.chord_error)
            found.append(page)
            step(1)
        for number, rod in enumerate(rods, len(sheets) + 1):
            note = PageNote(lamp.name, 1.0, number, every, "", lamp.units.alone)
            found.append(draw_rod_page(rod, note, paper=paper))
            step(1)
    return found


def _templates(study: Study, sheets: tuple[PartSheet, ...], paper: str) -> bytes:
    lamp = study.lamp
    for sheet in sheets:
        count = sheet_count(sheet, paper)
        if count > MOST_SHEETS:
            raise StackviewError(
                f"{sheet.title}: its template would take {count} sheets; {MOST_SHEETS} are the most: "
                "leave out --templates, and cut it by its DXF or SVG"
            )
    pages = [
        page for sheet in sheets for page in draw_templates(sheet, lamp.name, lamp.units.alone, paper=paper)
    ]
    return pdf_bytes(pages, f"{lamp.name}: templates")


def _table(
    sheets: tuple[PartSheet, ...], rods: tuple[RodSheet, ...], names: _Names, scales: list[float]
) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for name, justify in (("part", "left"), ("pieces", "right"), ("page at", "right"), ("files", "left")):
        table.add_column(name, justify=justify)  # type: ignore[arg-type]
    for sheet, stem, below, scale in zip(sheets, *names, scales[: len(sheets)], strict=True):
        files = f"{stem}.dxf, .svg" + (f"; {below}.dxf, .svg" if below else "")
        table.add_row(sheet.title, str(sheet.count), scale_words(scale), files)
    for rod, scale in zip(rods, scales[len(sheets) :], strict=True):
        table.add_row(rod.rod.title, str(rod.rod.count), scale_words(scale), "")
    return table


def _older(folder: Path, new: set[Path]) -> list[Path]:
    """Drawings of ours in the folder that were not made now: they may be of parts that are gone."""
    return sorted(
        file
        for ending in (".dxf", ".svg")
        for file in folder.glob(f"*{ending}")
        if file not in new and file.is_file() and is_marked(file, _MARKS[ending])
    )
