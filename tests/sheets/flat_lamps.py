"""Lamps whose parts are laid on sheets, and plain shapes."""

from pathlib import Path

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.description.lamp_file import LampFile
from stackview.sheets.fits import Fits, FlatShape
from stackview.sheets.no_fit import Region
from stackview.study import Study

# Rings of oak with room inside for the pucks, an offcut with a knot, and a plate without a sheet.
MOTH = """
name = "Moth"
unit = "mm"
cutter = 6
currency = "EUR"
[materials.oak]
wood = "white oak"
sold = 20
measured = 19.4
[materials.clear]
acrylic = "clear"
sold = 4
[[layer]]
name = "base"
material = "oak"
outline = { rectangle = [160, 110], corner_radius = 10 }
[[layer]]
name = "ring"
material = "oak"
outline = { circle = 120 }
wall = 20
grain = 0
[[layer]]
name = "puck"
material = "oak"
outline = { circle = 60 }
[[layer]]
name = "plate"
material = "clear"
outline = { rectangle = [90, 60] }
[[layer]]
name = "top"
material = "oak"
outline = { rectangle = [120, 80] }
recess = { face = "underside", depth = 3, outline = { circle = 40, at = [20, 0] } }
"""
BOARD = '[[sheet]]\nname = "board"\nmaterial = "oak"\nsize = [600, 180]\nprice = "38 per piece"\n'
KNOT = '[[sheet]]\nname = "offcut"\nmaterial = "oak"\nsize = [300, 200]\ngrain = 0\n' + (
    'zone = [{ name = "knot", outline = { circle = 30 }, at = [80, 90] }]\n'
)


def moth(*sheets: str) -> Study:
    """The lamp with sheets at hand."""
    return Study(LampFile.from_text(MOTH + "".join(sheets), "moth.toml", Path()))


def rectangle(width: float, depth: float) -> Floats:
    return np.array(((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)))


def rectangles(*sizes: tuple[float, float], turns: tuple[float, ...] = (0.0,)) -> list[FlatShape]:
    return [FlatShape(rectangle(*size), turns, (), size[0] * size[1]) for size in sizes]


def face(width: float, depth: float, *zones: shapely.Geometry) -> Region:
    return Region(shapely.box(0.0, 0.0, width, depth), zones)


def fits_of(shapes: list[FlatShape], *regions: Region, gap: float = 2.0) -> Fits:
    return Fits(shapes, regions, gap)
