"""The pictures of a preview: the charts and the lamp, drawn beside each other where that can be."""

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
    charts: dict[str, Callable[[], NDArray[np.uint8]]] = {
        "room": lambda: room_picture(study),
        "sightlines": lambda: sightline_map(study),
        "section": lambda: section_drawing(study),
    }
    if study.stack.misfits:
        charts["clash"] = lambda: clash_drawing(study.stack)
    names = ["room", "lamp", *list(charts)[1:]]
    targets = {name: folder / f"{stem}-{name}.png" for name in names}
    for target in targets.values():
        check_target(target)

    def drawn_charts() -> dict[str, NDArray[np.uint8]]:
        return {name: np.asarray(draw_chart()) for name, draw_chart in charts.items()}

    with progress("pictures", len(names)) as step:

        def drawn_lamp() -> dict[str, NDArray[np.uint8]]:
            # Here, not beside: it keeps its light in a file.
            lamp = draw(study, bearing=bearing, elevation=elevation, size=size)
            step(1)
            return {"lamp": lamp}

        found, lamp = study.at_once([drawn_charts, drawn_lamp])
        for name in names:
            write_png({**found, **lamp}[name], targets[name], {"Title": f"{study.lamp.name}: {name}"})
            step(name != "lamp")
            yield targets[name]
