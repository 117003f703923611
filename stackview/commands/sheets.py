"""``stackview sheets``: the parts of so many lamps laid out on the sheets and offcuts at hand."""

import sys
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, LampPath, whole_number
from stackview.errors import StackviewError

_LONGEST = 3600.0


def sheets(
    lamp: LampPath,
    /,
    *,
    lamps: Annotated[
        int, Parameter(help="How many lamps of this kind are made.", converter=whole_number)
    ] = 1,
    longest: Annotated[
        float,
        Parameter(help="Look for better layouts for at most so many seconds; Ctrl-C keeps the best so far."),
    ] = 20.0,
    out: Annotated[
        Path | None, Parameter(help="Folder for the drawings; by default one beside the lamp's file.")
    ] = None,
    paper: Annotated[
        Literal["a4", "letter"] | None,
        Parameter(help="Paper of the pages; by default letter for a lamp in inches or feet, else A4."),
    ] = None,
    json: Annotated[
        bool,
        Parameter(help="Print one JSON object to standard output; drawings only with --out.", negative=()),
    ] = False,
    allow_outside: AllowOutside = False,
) -> int:
    """Lay the parts out on the sheets that the lamp's file lists, and draw every sheet: DXF, SVG and a PDF."""
    from stackview.commands.place_check import check_folder

    if not 0.0 < longest <= _LONGEST:
        raise StackviewError(f"--longest {longest:g}: give seconds, more than 0 and at most {_LONGEST:g}")
    folder = out if out is not None else None if json else lamp.parent / f"{lamp.stem}-sheets"
    if folder is not None:
        check_folder(folder)
    from stackview.commands.sheets_output import say_first, show_sheets, write_sheets_json
    from stackview.commands.sheets_written import write_sheets
    from stackview.commands.stopping import Stopped, asked_to_stop
    from stackview.commands.summary import console
    from stackview.sheets.plan import sheet_plan
    from stackview.study import Study

    study = Study.read(lamp, allow_outside=allow_outside)
    plan = sheet_plan(study, lamps, longest=longest, first=None if json else say_first(longest))
    if plan.interrupted and asked_to_stop() not in (None, Stopped.BY_KEY):
        raise KeyboardInterrupt  # whoever ends the session wants no best so far
    chosen = paper or ("letter" if study.lamp.units.in_inches else "a4")
    written = () if folder is None else write_sheets(plan, folder, lamp.stem, study.lamp.units, paper=chosen)
    if json:
        write_sheets_json(plan, sys.stdout)
    else:
        show_sheets(console(), plan, study.lamp.units, longest)
        for line in written:
            console().print(line, soft_wrap=True)
    return 0
