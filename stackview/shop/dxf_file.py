"""A part's curves as a DXF file: exact arcs and circles, one layer for each kind of cut.

The file is of the version R2010 (AC1024) of the published "DXF
Reference": LWPOLYLINE with bulges and the unit $INSUNITS are in it, and not in R12.
"""

import io
from collections.abc import Sequence

import numpy as np

from stackview.arrays import Floats
from stackview.curves.arcs import Path
from stackview.description.lamp import Bore, Chamfer, Groove, Opening, Recess
from stackview.shop.drawn_cuts import DrawnCut, circle_of
from stackview.shop.drawn_names import INDEX_LAYER, FileUnit, drawn_name
from stackview.shop.sheet_lines import (
    GRAIN_LAYER,
    MARGIN_LAYER,
    NAMES_LAYER,
    SHEET_LAYER,
    ZONE_LAYER,
    SheetLines,
)

DXF_MARK = "999\nstackview drawing\n"
"""How a DXF of ours begins: a comment (group code 999, DXF Reference)."""
_UNITS = {"in": 1, "mm": 4}
"""$INSUNITS of the DXF Reference."""
_OUTLINE_COLOUR, _COLOURS, _INDEX_COLOUR = 7, {Opening: 5, Recess: 1, Groove: 6, Chamfer: 3, Bore: 4}, 8
"""Colours by the index of the format: white or black, blue, red, magenta, green, cyan, grey."""

_SHEET_COLOURS = {SHEET_LAYER: 7, MARGIN_LAYER: 8, ZONE_LAYER: 30}
"""White or black, grey, orange."""


def dxf_text(
    cuts: Sequence[DrawnCut], marks: Sequence[Floats], unit: FileUnit, sheet: SheetLines | None = None
) -> str:
    """Write cuts, and index marks (2, 2) as lines, in ``unit``; every curve closed, seen from above."""
    import ezdxf

    drawing = ezdxf.new("R2010")
    drawing.header["$INSUNITS"] = _UNITS[unit.word]
    drawing.header["$MEASUREMENT"] = int(unit.word == "mm")
    space = drawing.modelspace()
    for cut in cuts:
        name = drawn_name(cut, unit)
        if name not in drawing.layers:
            drawing.layers.add(name, color=_COLOURS.get(type(cut.of), _OUTLINE_COLOUR))
        for path in cut.paths:
            _add(space, path, name, unit)
    if marks:
        drawing.layers.add(INDEX_LAYER, color=_INDEX_COLOUR)
    for start, end in marks:
        space.add_line(tuple(start / unit.mm), tuple(end / unit.mm), dxfattribs={"layer": INDEX_LAYER})
    if sheet is not None:
        _add_sheet(drawing, sheet, unit)
    text = io.StringIO()
    drawing.write(text)
    return DXF_MARK + text.getvalue()


def _add(space: object, path: Path, name: str, unit: FileUnit) -> None:
    round_ = circle_of(path)
    if round_ is not None:
        centre, radius = round_
        space.add_circle(tuple(centre / unit.mm), radius / unit.mm, dxfattribs={"layer": name})  # type: ignore[attr-defined]
        return
    rows = path.vertices / np.array((unit.mm, unit.mm, 1.0))
    space.add_lwpolyline(rows.tolist(), format="xyb", close=True, dxfattribs={"layer": name})  # type: ignore[attr-defined]


def _add_sheet(drawing: object, sheet: SheetLines, unit: FileUnit) -> None:
    """What of a sheet is drawn but never cut: its edge, margin, zones, grain, and names of parts."""
    from ezdxf.enums import TextEntityAlignment

    space = drawing.modelspace()  # type: ignore[attr-defined]
    for name, paths in sheet.curves.items():
        drawing.layers.add(name, color=_SHEET_COLOURS[name])  # type: ignore[attr-defined]
        for path in paths:
            _add(space, path, name, unit)
    if sheet.grain:
        drawing.layers.add(GRAIN_LAYER, color=_INDEX_COLOUR)  # type: ignore[attr-defined]
    for start, end in sheet.grain:
        space.add_line(tuple(start / unit.mm), tuple(end / unit.mm), dxfattribs={"layer": GRAIN_LAYER})
    drawing.layers.add(NAMES_LAYER, color=_INDEX_COLOUR)  # type: ignore[attr-defined]
    for words, (x, y), tall in sheet.names:
        text = space.add_text(words, height=tall / unit.mm, dxfattribs={"layer": NAMES_LAYER})
        text.set_placement((x / unit.mm, y / unit.mm), align=TextEntityAlignment.MIDDLE_CENTER)
