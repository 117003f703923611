"""``stackview steps``: the order of work, worked out from the stack, here and as a page for the bench."""

import sys
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, LampPath
from stackview.errors import StackviewError


def steps(
    lamp: LampPath,
    /,
    *,
    full: Annotated[
        bool, Parameter(help="Every step with all that belongs to it, and cutting figures.", negative=())
    ] = False,
    page: Annotated[
        bool, Parameter(help="Also write a page for the bench, with boxes to tick.", negative=())
    ] = False,
    out: Annotated[
        Path | None, Parameter(help="Folder for the page; by default where the lamp's file lies.")
    ] = None,
    json: Annotated[bool, Parameter(help="Print one JSON object to standard output.", negative=())] = False,
    allow_outside: AllowOutside = False,
) -> int:
    """Number the steps of building the lamp: cut, flip, sand, wire, test, glue, finish, each with its cautions."""
    from stackview.commands.place_check import check_folder

    if json and (full or page):
        raise StackviewError(f"steps: --json and --{'full' if full else 'page'} are both given; choose one")
    if out is not None and not page:
        raise StackviewError("steps: --out says where the page goes: give --page too")
    target = (out or lamp.parent) / f"{lamp.stem}-steps.html" if page else None
    if target is not None:
        check_folder(target.parent)
    from stackview.commands.progress import progress
    from stackview.commands.steps_output import check_page, show_steps, write_steps_json, write_steps_page
    from stackview.shop.work_order import work_order
    from stackview.study import Study

    if target is not None:
        check_page(target)
    study = Study.read(lamp, allow_outside=allow_outside, progress=progress)
    order = work_order(study)
    if json:
        write_steps_json(order, sys.stdout)
    else:
        if target is not None and order.steps:
            write_steps_page(order, study.lamp.units, target)
        show_steps(order, study.lamp.units, full=full, written=target)
    return 0 if order.steps else 1
