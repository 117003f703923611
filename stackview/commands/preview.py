"""``stackview preview``: the main job. Summary on the terminal, pictures into a folder."""

from contextlib import ExitStack
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, FailOn, LampPath, exit_code, whole_number


def preview(
    lamp: LampPath,
    /,
    *,
    out: Annotated[
        Path | None, Parameter(help="Folder for the pictures; by default one beside the lamp's file.")
    ] = None,
    bearing: Annotated[
        float, Parameter(help="Bearing the lamp is drawn from: 0 front, 90 right [°].")
    ] = 35.0,
    elevation: Annotated[float, Parameter(help="Elevation it is drawn from [°].")] = 18.0,
    width: Annotated[int, Parameter(help="Width of the picture [pixels].", converter=whole_number)] = 1600,
    height: Annotated[int, Parameter(help="Height of the picture [pixels].", converter=whole_number)] = 1200,
    pictures: Annotated[bool, Parameter(help="Draw the pictures; without them the answers alone.")] = True,
    full: Annotated[
        bool, Parameter(help="Add all tables: eyes, gaps, stack-up, every finding.", negative=())
    ] = False,
    fail_on: FailOn = None,
    allow_outside: AllowOutside = False,
) -> int:
    """Read the lamp, build it, look at it from everywhere, and draw it."""
    from stackview.at_once import split_off
    from stackview.change.mends import Mending
    from stackview.commands.first_screen import show_first_screen
    from stackview.commands.place_check import check_folder
    from stackview.commands.progress import progress
    from stackview.commands.spots_line import show_evening
    from stackview.commands.summary import console, show_findings, show_mends, show_sightlines, show_stack
    from stackview.errors import StackviewError
    from stackview.findings import Level
    from stackview.stills.picture_file import check_target
    from stackview.stills.views import check_view
    from stackview.study import Study

    if out is not None and not pictures:
        raise StackviewError("preview: --out says where the pictures go: leave out --no-pictures")
    check_view(bearing, elevation, (width, height))
    folder = out if out is not None else lamp.parent / f"{lamp.stem}-pictures"
    if pictures:
        check_folder(folder)
        for name in ("room", "lamp", "sightlines", "section"):
            check_target(folder / f"{lamp.stem}-{name}.png")
    study = Study.read(lamp, allow_outside=allow_outside, progress=progress, at_once=split_off)
    screen, mending = console(), Mending(study)
    with ExitStack() as behind:
        drawing = None
        if pictures:
            from stackview.commands.drawing import Pictures

            drawing = Pictures(
                study, folder, lamp.stem, bearing=bearing, elevation=elevation, size=(width, height)
            )
            behind.enter_context(drawing).begin_lamp()
        show_first_screen(screen, study, mending, looked=drawing.begin_charts if drawing else lambda: None)
        if full:
            screen.print()
            show_sightlines(screen, study)
            show_stack(screen, study)
            show_findings(screen, study.findings, Level.CAUTION)
            show_mends(screen, mending)
            show_evening(screen, mending)
        if drawing:
            names = ", ".join(target.name for target in drawing.written())
            screen.print(f"Wrote into {folder}: {names}", soft_wrap=True)
    return exit_code(study.findings, fail_on)
