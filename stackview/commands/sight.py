"""``stackview sight``: from where light points show."""

import sys
from typing import Annotated

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, FailOn, LampPath, OwnDistance, distance_of, exit_code
from stackview.errors import StackviewError


def sight(
    lamp: LampPath,
    /,
    *,
    json: Annotated[bool, Parameter(help="Print one JSON object to standard output.", negative=())] = False,
    bands: Annotated[
        bool, Parameter(help="With --json: add every light point's own bands (can be large).", negative=())
    ] = False,
    spots: Annotated[
        bool, Parameter(help="How spotty the acrylic looks to each eye: some seconds more.")
    ] = True,
    eye: Annotated[
        str | None, Parameter(help="Add what shows all round at this named eye's distance, by height.")
    ] = None,
    distance: OwnDistance = None,
    mends: Annotated[
        bool,
        Parameter(help="Where an eye sees spots, what evens them out: tried, up to a minute more."),
    ] = True,
    fail_on: FailOn = None,
    allow_outside: AllowOutside = False,
) -> int:
    """Exact sightlines from all directions and for each named eye."""
    if bands and not json:
        raise StackviewError("--bands adds to the object that --json prints: give both")
    from stackview.at_once import split_off
    from stackview.checks.sight_checks import SIGHT_CHECKS
    from stackview.checks.subject import run_checks
    from stackview.commands.progress import progress
    from stackview.study import Study

    study = Study.read(lamp, allow_outside=allow_outside, progress=progress, at_once=split_off)
    far = distance_of(distance, study.lamp.units)
    if eye is not None or far is not None:
        far = study.sightlines.own_distance(eye, far)
    findings = run_checks(study, SIGHT_CHECKS, progress=study.progress)
    if json:
        from stackview.commands.json_output import write_record

        write_record(study, findings, sys.stdout, bands=bands, spots=spots, mends=mends, distance=far)
    else:
        from stackview.change.mends import Mending
        from stackview.commands.own_map import show_own_map
        from stackview.commands.spots_line import show_evening, show_spots
        from stackview.commands.summary import console, show_findings, show_sightlines

        screen = console()
        show_sightlines(screen, study)
        if far is not None:
            show_own_map(screen, study, far)
        show_findings(screen, findings)
        if spots:
            screen.file.flush()  # sightlines are read while light is followed
            show_spots(screen, study)
            if mends:
                show_evening(screen, Mending(study))
    return exit_code(findings, fail_on)
