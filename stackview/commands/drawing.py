"""The pictures of a preview: the charts and the lamp, drawn beside each other and behind its answers where that can be."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager, ExitStack
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from stackview.at_once import begun_behind
from stackview.commands.progress import progress
from stackview.stills.picture_file import check_target, write_picture
from stackview.study import Study

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Drawn = dict[str, bytes]
"""What goes into the pictures' files, by their names."""
Behind = Callable[[Callable[[], Drawn]], AbstractContextManager[Callable[[], Drawn]]]
"""Begins a work, and gives what waits for it: :func:`stackview.at_once.begun_behind`."""


class Pictures:
    """Room, lamp, sightline map, section, and a clash if there is one; those begun are stopped when this is left."""

    def __init__(
        self,
        study: Study,
        folder: Path,
        stem: str,
        *,
        bearing: float,
        elevation: float,
        size: tuple[int, int],
        behind: Behind = begun_behind,
    ) -> None:
        self._study, self._folder, self._stem, self._behind = study, folder, stem, behind
        self._bearing, self._elevation, self._size = bearing, elevation, size
        self._begun: list[Callable[[], Drawn]] = []
        self._open = ExitStack()

    def begin_lamp(self) -> None:
        """Begin with the lamp, which asks for nothing but its parts and its light.

        Raises OutputError where one of the pictures cannot be put into its place.
        """
        for target in self._targets().values():
            check_target(target)
        # What all need is made here, once.
        _ = self._study.light
        self._begin(self._lamp)

    def begin_charts(self) -> None:
        """Begin with the charts, which ask for what the eyes see."""
        self._begin(self._charts)

    def written(self) -> Iterator[Path]:
        """Write all that were begun, and yield each file once it is there."""
        drawn, targets = Drawn(), self._targets()
        with progress("pictures", len(targets)) as step:
            for answer in self._begun:
                drawn |= answer()
            for name, target in targets.items():
                write_picture(drawn[name], target)
                step(1)
                yield target

    def _targets(self) -> dict[str, Path]:
        names = ("room", "lamp", "sightlines", "section", *self._clash())
        return {name: self._folder / f"{self._stem}-{name}.png" for name in names}

    def _begin(self, work: Callable[[], Drawn]) -> None:
        self._begun.append(self._open.enter_context(self._behind(work)))

    def _lamp(self) -> Drawn:
        # What draws is loaded by whoever draws: the answers do not wait for it.
        from stackview.stills.draw import draw

        lamp = draw(self._study, bearing=self._bearing, elevation=self._elevation, size=self._size)
        return self._drawn({"lamp": lamp})

    def _charts(self) -> Drawn:
        from stackview.drawings.clash_drawing import clash_drawing
        from stackview.drawings.room_drawing import room_picture
        from stackview.drawings.section_drawing import section_drawing
        from stackview.drawings.sightline_map import sightline_map

        study = self._study
        return self._drawn(
            {
                "room": room_picture(study),
                "sightlines": sightline_map(study),
                "section": section_drawing(study),
                **{name: clash_drawing(study.stack) for name in self._clash()},
            }
        )

    def _drawn(self, pictures: "Mapping[str, NDArray[np.uint8]]") -> Drawn:
        from stackview.stills.png import as_png

        title = self._study.lamp.name
        return {name: as_png(picture, {"Title": f"{title}: {name}"}) for name, picture in pictures.items()}

    def _clash(self) -> tuple[str, ...]:
        return ("clash",) if self._study.stack.misfits else ()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._open.close()
