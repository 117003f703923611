"""``stackview picture``: the lamp's pictures for a build log, all of them or chosen ones."""

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, LampPath, OwnDistance, whole_number


def picture(
    lamp: LampPath,
    /,
    *view: Annotated[
        str,
        Parameter(
            help="Views, or none for all: room, plan, map, section, studio, evening, front, side, top, beneath, spread, "
            "half, elevation, sheet, turn, eyes."
        ),
    ],
    out: Annotated[
        Path | None, Parameter(help="Folder for the pictures; by default one beside the lamp's file.")
    ] = None,
    width: Annotated[
        int | None,
        Parameter(
            help="Width of each picture [pixels]; by default what suits the view.", converter=whole_number
        ),
    ] = None,
    height: Annotated[
        int | None,
        Parameter(
            help="Height of each picture [pixels]; at most 36 million pixels in all.", converter=whole_number
        ),
    ] = None,
    bearing: Annotated[
        float | None,
        Parameter(
            help="Bearing for studio, evening, half (the cut faces it), spread, elevation, room, section and the "
            "turntable's start: 0 front, 90 right [°]."
        ),
    ] = None,
    elevation: Annotated[
        float | None, Parameter(help="Elevation for studio, evening, half, spread and turn [°].")
    ] = None,
    eye: Annotated[
        str | None,
        Parameter(
            help="Named eye that plan, map and section are for; by default the one that sees most, and a map of all "
            "directions from far away."
        ),
    ] = None,
    distance: OwnDistance = None,
    transparent: Annotated[
        bool,
        Parameter(help="No backdrop: PNG and WebP with their own opacity; a GIF has white.", negative=()),
    ] = False,
    units: Annotated[
        Literal["mm", "in", "both"] | None,
        Parameter(
            help="Units of dimensions; by default the lamp's own, with millimetres beside feet and inches."
        ),
    ] = None,
    allow_outside: AllowOutside = False,
) -> int:
    """Draw the lamp's pictures. The light is baked once and kept, so that a second run is quick."""
    from stackview.commands.place_check import check_folder
    from stackview.stills.views import check_size, check_view, chosen, size_of

    views = chosen(view)
    sizes = {name: size_of(name, width, height) for name in views}
    for name, size in sizes.items():
        check_size(name, size)
    check_view(bearing or 0.0, elevation or 0.0, (640, 480))
    folder = out if out is not None else lamp.parent / f"{lamp.stem}-pictures"
    check_folder(folder)
    from stackview.commands.summary import console
    from stackview.commands.views_drawn import ViewsWanted, draw_views

    wanted = ViewsWanted(sizes, bearing, elevation, units, transparent, eye, distance)
    screen = console()
    for target in draw_views(lamp, folder, wanted, allow_outside=allow_outside):
        screen.print(f"Wrote {target}", soft_wrap=True)
    return 0
