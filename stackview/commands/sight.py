"""``stackview sight``: from where light points show."""

import sys
from typing import Annotated

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, FailOn, LampFile
from stackview.errors import StackviewError


def sight(
    lamp: LampFile,
    /,
    *,
    json: Annotated[bool, Parameter(help="Print one JSON object to standard output.", negative=())] = False,
    bands: Annotated[
        bool, Parameter(help="With --json: add every light point's own bands (can be large).", negative=())
    ] = False,
    fail_on: FailOn = None,
    allow_outside: AllowOutside = False,
) -> int:
    """Exact sightlines from all directions and for each named eye."""
    if bands and not json:
        raise StackviewError("--bands adds to the object that --json prints: give both")
    from stackview.checks.all_checks import SIGHT_CHECKS
    from stackview.commands.studied import study
    from stackview.findings import Level

    studied = study(lamp, allow_outside=allow_outside, checks=SIGHT_CHECKS)
    if json:
        from stackview.commands.json_output import write_record

        write_record(studied, sys.stdout, bands=bands)
    else:
        from stackview.commands.summary import console, show_findings, show_sightlines

        screen = console()
        show_sightlines(screen, studied)
        show_findings(screen, studied)
    return int(studied.worst_at_least(Level[fail_on.upper()] if fail_on else None))
