"""``stackview export``: models of the lamp for renderers, printers and other programs."""

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from stackview.commands.arguments import AllowOutside, LampPath


def export(
    lamp: LampPath,
    /,
    *formats: Annotated[str, Parameter(help="Formats, or none for all: glb, 3mf, obj, stl.")],
    parts: Annotated[
        bool,
        Parameter(
            help="Every different part in a file of its own, as it lies on the bench; STL always is.",
            negative=(),
        ),
    ] = False,
    out: Annotated[
        Path | None, Parameter(help="Folder for the models; by default one beside the lamp's file.")
    ] = None,
    allow_outside: AllowOutside = False,
) -> int:
    """Write models: GLB in metres with y up; 3MF, OBJ and STL in millimetres with z up."""
    from stackview.commands.place_check import check_folder

    folder = out if out is not None else lamp.parent / f"{lamp.stem}-models"
    check_folder(folder)
    from stackview.commands.summary import console
    from stackview.commands.writing_together import write_together
    from stackview.shop.model_files import MODEL_FORMATS, MODEL_MARKS, model_files
    from stackview.study import Study

    study = Study.read(lamp, allow_outside=allow_outside)
    made = model_files(study, formats or MODEL_FORMATS, parts=parts, stem=lamp.stem)
    write_together({folder / name: content for name, content in made.items()}, MODEL_MARKS)
    screen = console()
    for name in made:
        screen.print(f"Wrote {folder / name}", soft_wrap=True)
    units = study.lamp.units
    screen.print(
        f"Curves are facets, nowhere farther than {units.small(study.lamp.chord_error)} from the true curve."
    )
    if study.lamp.cord is not None:
        screen.print("The cord is left out.")
    return 0
