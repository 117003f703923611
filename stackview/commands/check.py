"""``stackview check``: will it go together, hold, and run? Every finding with its number and its source."""

import sys
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, FailOn, exit_code
from stackview.errors import StackviewError


def check(
    lamp: Annotated[Path | None, Parameter(help="The lamp's TOML file.")] = None,
    /,
    *,
    json: Annotated[bool, Parameter(help="Print one JSON object to standard output.", negative=())] = False,
    list_: Annotated[
        bool,
        Parameter(name="--list", help="Print every check with its formula, limits and source.", negative=()),
    ] = False,
    all_: Annotated[
        bool,
        Parameter(name="--all", help="Print the facts too: heights, plays, amounts of glue.", negative=()),
    ] = False,
    limits: Annotated[
        Path | None, Parameter(help="TOML file of your own limits; what the lamp's file sets comes first.")
    ] = None,
    fail_on: FailOn = None,
    allow_outside: AllowOutside = False,
) -> int:
    """Check fit, cutting, walls, glue, movement, supply, heat and footing before cutting anything."""
    from stackview.checks.limits import read_limits
    from stackview.commands.check_output import show_checked, show_list, write_checked, write_list

    own = read_limits(limits) if limits is not None else None
    if list_:
        if json:
            write_list(sys.stdout, own)
        else:
            show_list(own)
        return 0
    if lamp is None:
        raise StackviewError("check: name the lamp's TOML file, or --list for the table of checks")
    from stackview.commands.progress import progress
    from stackview.study import Study

    study = Study.read(lamp, allow_outside=allow_outside, own_limits=own, progress=progress)
    if json:
        write_checked(study, sys.stdout)
    else:
        show_checked(study, facts=all_)
    return exit_code(study.findings, fail_on)
