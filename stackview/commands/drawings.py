"""``stackview drawings``: what is cut, for the router and for the bench: DXF, SVG and a dimensioned PDF."""

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, LampPath


def drawings(
    lamp: LampPath,
    /,
    *,
    out: Annotated[
        Path | None, Parameter(help="Folder for the drawings; by default one beside the lamp's file.")
    ] = None,
    paper: Annotated[
        Literal["a4", "letter"] | None,
        Parameter(help="Paper of the pages; by default letter for a lamp in inches or feet, else A4."),
    ] = None,
    templates: Annotated[
        bool,
        Parameter(
            help="Also a PDF of true-size paper templates, in sheets to be glued together.", negative=()
        ),
    ] = False,
    allow_outside: AllowOutside = False,
) -> int:
    """Draw every different part: a DXF and an SVG to cut from, and a page with all its numbers."""
    from stackview.commands.place_check import check_folder

    folder = out if out is not None else lamp.parent / f"{lamp.stem}-drawings"
    check_folder(folder)
    from stackview.commands.drawings_written import write_drawings
    from stackview.commands.summary import console
    from stackview.study import Study

    study = Study.read(lamp, allow_outside=allow_outside)
    chosen = paper or ("letter" if study.lamp.units.in_inches else "a4")
    write_drawings(console(), study, folder, lamp.stem, paper=chosen, templates=templates)
    return 0
