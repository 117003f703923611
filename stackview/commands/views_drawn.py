"""The named views of a lamp, drawn one after the other and written as they are done."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from stackview.commands.arguments import distance_of
from stackview.commands.progress import progress
from stackview.description.lamp import Lamp
from stackview.drawings.album import draw_view
from stackview.drawings.eye_picture import eye_picture
from stackview.drawings.inked import on_tone
from stackview.errors import OutputError
from stackview.shop.file_names import file_names
from stackview.sight.camera import BEARING, ELEVATION
from stackview.stills.animation import gif_of, turntable, webp_of
from stackview.stills.picture_file import check_target, write_picture
from stackview.stills.png import write_png
from stackview.stills.views import FRAMES
from stackview.study import Study

WHITE = (255, 255, 255)
_FOR_AN_EYE = {"plan", "map", "section"}


@dataclass(frozen=True, slots=True)
class ViewsWanted:
    """Which views at which sizes, and how; None stands for what suits the view."""

    sizes: dict[str, tuple[int, int]]
    bearing: float | None
    elevation: float | None
    units: str | None
    transparent: bool
    eye: str | None = None
    distance: str | None = None
    """Of a map of its own from the lamp's axis, as written."""


def draw_views(
    file: Path, folder: Path, wanted: ViewsWanted, *, allow_outside: bool = False
) -> Iterator[Path]:
    """Draw and write every view that is wanted; yields each file as it is written.

    Raises LampError for what is wrong in the lamp's file, OutputError where a picture cannot go;
    nothing is drawn before all targets are known to be free.
    """
    study = Study.read(file, allow_outside=allow_outside, progress=progress)
    distance = distance_of(wanted.distance, study.lamp.units)
    if distance is not None and "map" not in wanted.sizes:
        raise OutputError("--from is for the map: add map to the views")
    if wanted.eye is not None:
        if not _FOR_AN_EYE & wanted.sizes.keys():
            raise OutputError("--eye is for plan, map and section: add one of them to the views")
        study.sightlines.eye(wanted.eye)
    if "map" in wanted.sizes and (wanted.eye is not None or distance is not None):
        study.sightlines.own_distance(wanted.eye, distance)  # refused before anything is drawn
    targets = _targets(study.lamp, folder, file.stem, wanted)
    for target in targets.values():
        check_target(target)
    steps = len(targets) + (FRAMES if "turn" in wanted.sizes else 0)
    with progress("pictures", steps) as step:
        for view in wanted.sizes:
            if view == "turn":
                yield from _turn(study, targets, wanted, step)
            elif view == "eyes":
                yield from _eyes(study, targets, wanted, step)
            else:
                drawn = draw_view(
                    study,
                    view,
                    size=wanted.sizes[view],
                    bearing=wanted.bearing,
                    elevation=wanted.elevation,
                    units=wanted.units,
                    transparent=wanted.transparent,
                    eye=wanted.eye,
                    distance=distance,
                )
                yield _written(drawn, study.lamp, view, targets[view], step)


def _targets(lamp: Lamp, folder: Path, stem: str, wanted: ViewsWanted) -> dict[str, Path]:
    """Where each picture goes, by view, and by "eyes NUMBER", "turn webp" and "turn gif"."""
    found: dict[str, Path] = {}
    for view in wanted.sizes:
        if view == "turn":
            found |= {f"turn {kind}": folder / f"{stem}-turn.{kind}" for kind in ("webp", "gif")}
        elif view == "eyes":
            names = _file_words([eye.name for eye in lamp.eyes])
            found |= {f"eyes {k}": folder / f"{stem}-eyes-{name}.png" for k, name in enumerate(names)}
        else:
            found[view] = folder / f"{stem}-{view}.png"
    return found


def _file_words(names: list[str]) -> tuple[str, ...]:
    """Names as they can stand in any file system, each different; a number for one without letters.

    >>> _file_words(["at the desk", "At the Desk", "?"])
    ('at-the-desk', 'At-the-Desk-2', '3')
    """
    return file_names(
        name if any(map(str.isalnum, name)) else str(number) for number, name in enumerate(names, start=1)
    )


def _written(
    drawn: NDArray[np.uint8], lamp: Lamp, view: str, target: Path, step: Callable[[int], None]
) -> Path:
    write_png(drawn, target, {"Title": f"{lamp.name}: {view}"})
    step(1)
    return target


def _eyes(
    study: Study, targets: dict[str, Path], wanted: ViewsWanted, step: Callable[[int], None]
) -> Iterator[Path]:
    units = study.lamp.units.asked(wanted.units)
    for number, seen in enumerate(study.eyes):
        size = wanted.sizes["eyes"]
        drawn = eye_picture(study, seen, units, size=size, cut_out=wanted.transparent)
        yield _written(drawn, study.lamp, f"what eye {seen.eye.name} sees", targets[f"eyes {number}"], step)


def _turn(
    study: Study, targets: dict[str, Path], wanted: ViewsWanted, step: Callable[[int], None]
) -> Iterator[Path]:
    frames = []
    for frame in turntable(
        study,
        size=wanted.sizes["turn"],
        bearing=BEARING if wanted.bearing is None else wanted.bearing,
        elevation=ELEVATION if wanted.elevation is None else wanted.elevation,
        cut_out=wanted.transparent,
    ):
        frames.append(frame)
        step(1)
    write_picture(webp_of(frames), targets["turn webp"])
    step(1)
    yield targets["turn webp"]
    # A GIF's pixels are there or not; soft rims need a backdrop.
    plain = [on_tone(frame, WHITE) for frame in frames] if wanted.transparent else frames
    write_picture(gif_of(plain), targets["turn gif"])
    step(1)
    yield targets["turn gif"]
