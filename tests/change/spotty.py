"""Small lamps whose spots are known by hand: one plate over a few light points, seen from above."""

from stackview.description.lamp_file import LampFile
from stackview.study import Study

LAMP = """
name = "Small lamp"
cutter = 3
materials.ash = { wood = "ash", sold = 15, measured = 14.8 }
materials.stock = { acrylic = "SORT", sold = 4, measured = 3.8 }
surface = { height = 700 }
eye = [{ name = "over it", distance = 500, height = 1200 }]

[[layer]]
name = "base"
material = "ash"
outline = { circle = 120 }

[[layer]]
name = "ring"
material = "ash"
outline = { circle = 120 }
wall = 8

[[layer]]
name = "plate"
material = "stock"
outline = { circle = 110 }

[[light]]
panel = { columns = 3, rows = 1, spacing = 30, on = "base", facing = "up" }
lumens = 20
milliamps = 20
"""
STRIP = """
name = "Strip"
unit = "mm"
cutter = "3 mm"
materials.ply = { plywood = "birch", sold = "9 mm", measured = "9 mm" }
materials.plate = { acrylic = "clear", sold = "4 mm", measured = "4 mm", finish = "sanded", roughness = 0.2 }

[[layer]]
name = "base"
material = "ply"
outline = { circle = "120 mm" }

[[layer]]
name = "ring"
material = "ply"
outline = { circle = "120 mm" }
wall = "14 mm"
thickness = "30 mm"
recess = { depth = "2 mm" }

[[layer]]
name = "plate"
material = "plate"
outline = { circle = "104 mm" }
opening = { circle = "50 mm" }

[[layer]]
name = "cap"
material = "ply"
outline = { circle = "120 mm" }

[core]
material = "ply"
outline = { circle = "40 mm" }
height = "30 mm"

[[light]]
helix = { pitch = "20 mm", length = "100 mm" }
spacing = "10 mm"
cut_every = "10 mm"
width = "8 mm"
face = ["2 mm", "2 mm"]
milliamps = 20
"""


def small(sort: str = "opal", **swaps: str) -> Study:
    """The small lamp of one sort of acrylic, some of its text swapped."""
    text = LAMP.replace("SORT", sort)
    for old, new in swaps.items():
        assert old in text
        text = text.replace(old, new)
    return Study(LampFile.from_text(text))


def strip(text: str = STRIP) -> Study:
    """The lamp with a strip of single LEDs, in millimetres."""
    return Study(LampFile.from_text(text))
