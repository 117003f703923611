"""``stackview view``: the lamp in a window, to be turned, cut, spread, and watched while its file is edited."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, LampPath, whole_number

if TYPE_CHECKING:
    from stackview.study import Study
    from stackview.window.shown import Shown
    from stackview.window.state import ViewState


def view(
    lamp: LampPath,
    /,
    *,
    out: Annotated[
        Path | None, Parameter(help="Folder for saved views; by default one beside the lamp's file.")
    ] = None,
    width: Annotated[int, Parameter(help="Width of the window [pixels].", converter=whole_number)] = 1200,
    height: Annotated[int, Parameter(help="Height of the window [pixels].", converter=whole_number)] = 800,
    allow_outside: AllowOutside = False,
) -> int:
    """Turn the lamp in a window; the file is read anew whenever it is saved. H shows the keys."""
    from stackview.stills.views import check_view
    from stackview.window.libraries import check_window
    from stackview.window.probe import begin_probe, end_probe

    check_view(0.0, 0.0, (width, height))
    check_window()
    trial = begin_probe()
    try:
        shown = load(lamp, allow_outside=allow_outside)
        end_probe(trial)
    finally:
        if trial.poll() is None:
            trial.kill()
        trial.wait()
    from stackview.window.frame import run_window
    from stackview.window.watch import Watch

    folder = out if out is not None else lamp.parent / f"{lamp.stem}-pictures"
    run_window(
        shown,
        Watch(watched(lamp, shown.study), lambda: load(lamp, allow_outside=allow_outside)),
        lambda shown, state, size: save_view(shown, state, size, folder, lamp.stem),
        (width, height),
    )
    return 0


def load(lamp: Path, *, allow_outside: bool) -> "Shown":
    """Take a lamp's file all the way to what the window needs."""
    from stackview.commands.progress import progress
    from stackview.study import Study
    from stackview.window.shown import prepared

    return prepared(Study.read(lamp, allow_outside=allow_outside, progress=progress))


def watched(lamp: Path, study: "Study") -> tuple[Path, ...]:
    """The lamp's file, and the curve files beside it that it names."""
    text = study.file.text() if study.file is not None else ""
    try:
        beside = sorted(file for file in lamp.parent.iterdir() if file.suffix.lower() in (".svg", ".dxf"))
    except OSError:
        return (lamp,)
    return (lamp, *(file for file in beside if file.name in text))


def save_view(shown: "Shown", state: "ViewState", window: tuple[int, int], folder: Path, stem: str) -> str:
    """Write the view as a new picture and say where; or say why it could not be written."""
    from stackview.errors import OutputError
    from stackview.stills.png import write_png
    from stackview.window.saving import view_picture

    number = 1
    while (folder / f"{stem}-view-{number}.png").exists():
        number += 1
    target = folder / f"{stem}-view-{number}.png"
    try:
        write_png(view_picture(shown, state, window), target, {"Title": f"{shown.study.lamp.name}: view"})
    except OutputError as trouble:
        return str(trouble)
    return f"saved {target.name} in {target.parent.name or target.parent}"
