"""The pictures of a preview, drawn one after the other and written as they are done."""

from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from stackview.commands.progress import progress
from stackview.drawings.clash_drawing import clash_drawing
from stackview.drawings.room_drawing import room_picture
from stackview.drawings.section_drawing import section_drawing
from stackview.drawings.sightline_map import sightline_map
from stackview.stills.draw import draw
from stackview.stills.png import check_target, write_png
from stackview.study import Study


def draw_pictures(
    study: Study, folder: Path, stem: str, bearing: float, elevation: float, size: tuple[int, int]
) -> Iterator[Path]:
    """Draw and write room, lamp, sightline map, section, and a clash if there is one; yields each file once written."""
    todo: dict[str, Callable[[], NDArray[np.uint8]]] = {
        "room": lambda: room_picture(study),
        "lamp": lambda: draw(study, bearing=bearing, elevation=elevation, size=size),
        "sightlines": lambda: sightline_map(study),
        "section": lambda: section_drawing(study),
    }
    if study.stack.misfits:
        todo["clash"] = lambda: clash_drawing(study.stack)
    targets = {name: folder / f"{stem}-{name}.png" for name in todo}
    for target in targets.values():
        check_target(target)
    with progress("pictures", len(todo)) as step:
        for name, picture in todo.items():
            write_png(picture(), targets[name], {"Title": f"{study.lamp.name}: {name}"})
            step(1)
            yield targets[name]
