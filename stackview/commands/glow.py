"""``stackview glow``: how the lamp looks lit, how bright, and how much light it gives."""

import re
import sys
import time
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, LampPath, whole_number
from stackview.commands.stopping import Stopped
from stackview.errors import StackviewError

_ERROR = re.compile(r"\s*([0-9]*\.?[0-9]+)\s*%\s*")
_LIMITS = (0.01, 0.5)
_LONGEST = (1.0, 86_400.0)


def glow(
    lamp: LampPath,
    /,
    *,
    eye: Annotated[
        str | None, Parameter(help="Named eye to look from; without it, the lamp's first.")
    ] = None,
    bearing: Annotated[
        float | None, Parameter(help="Bearing to look from: 0 front, 90 right [°]; for an eye, its worst.")
    ] = None,
    elevation: Annotated[
        float | None, Parameter(help="Elevation to look from, in place of an eye's [°].")
    ] = None,
    distance: Annotated[
        str | None, Parameter(help="Distance to look from, in place of an eye's: 900, or '3 ft'.")
    ] = None,
    error: Annotated[
        str,
        Parameter(
            help="How exact the hot-spot ratio must be: 10% within a minute, 3% to publish the figure."
        ),
    ] = "10%",
    longest: Annotated[
        float,
        Parameter(help="For everything together [s], pictures too; one round is rendered in any case."),
    ] = 120.0,
    keep: Annotated[
        bool,
        Parameter(
            help="On Ctrl-C keep what is rendered by then: it is told and drawn, and says that it is unfinished. "
            "A second one leaves nothing.",
            negative=(),
        ),
    ] = False,
    only: Annotated[
        Literal["ratios", "pictures"] | None,
        Parameter(
            help="ratios: hot spots of the plates alone, without light out and pictures; pictures: these alone, within a "
            "minute on two slow cores."
        ),
    ] = None,
    out: Annotated[
        Path | None, Parameter(help="Folder for the pictures; by default one beside the lamp's file.")
    ] = None,
    json: Annotated[
        bool,
        Parameter(help="Print one JSON object to standard output; pictures only with --out.", negative=()),
    ] = False,
    seed: Annotated[
        int,
        Parameter(
            help="Another seed gives other noise; the same one the same figures.", converter=whole_number
        ),
    ] = 1,
    allow_outside: AllowOutside = False,
) -> int:
    """Luminance and hot spots of the lit plates, light out of the lamp, and pictures of it. Needs the extra glow."""
    begun = time.monotonic()
    wanted = error_of(error)
    if not _LONGEST[0] <= longest <= _LONGEST[1]:
        raise StackviewError(
            f"--longest {longest:g}: from {_LONGEST[0]:g} to {_LONGEST[1]:g} s; give one between"
        )
    if not 0 <= seed <= 10_000:
        raise StackviewError(f"--seed {seed}: a whole number from 0 to 10000")
    from stackview.commands.place_check import check_folder
    from stackview.glow import engine

    engine.require()
    from stackview.commands.glow_output import glow_record, print_record, show_glow
    from stackview.commands.glow_study import GlowWanted, study_glow
    from stackview.commands.summary import console

    folder = out if out is not None else (None if json else lamp.parent / f"{lamp.stem}-pictures")
    if only == "ratios":
        if out is not None:
            raise StackviewError("--only ratios makes no pictures: leave out --out")
        folder = None
    if only == "pictures" and folder is None:
        raise StackviewError("--only pictures with --json: give --out, the folder for the pictures")
    if folder is not None:
        check_folder(folder)
    asked = GlowWanted(
        eye,
        bearing,
        elevation,
        distance,
        wanted,
        longest,
        seed,
        folder,
        only_ratios=only == "ratios",
        only_pictures=only == "pictures",
        keep=keep,
        begun=begun,
    )
    glowing = study_glow(lamp, asked, allow_outside=allow_outside)
    if json:
        print_record(glow_record(glowing), sys.stdout)
    else:
        show_glow(console(), glowing)
    return Stopped.BY_KEY.exit_code if glowing.stopped else 0


def error_of(written: str) -> float:
    """The share that an error such as "5%" stands for.

    >>> error_of("5%")
    0.05
    """
    found = _ERROR.fullmatch(written)
    value = float(found.group(1)) / 100.0 if found else float("nan")
    if not _LIMITS[0] <= value <= _LIMITS[1]:
        low, high = (f"{100 * limit:g}%" for limit in _LIMITS)
        raise StackviewError(f"--error {written}: a share in per cent from {low} to {high}, such as 5%")
    return value
