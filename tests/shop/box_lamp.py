"""A small box of a lamp with prices: what the tests of the parts list read."""

from pathlib import Path

from stackview.description.lamp_file import LampFile
from stackview.study import Study

BOX = """
name = "Box"
unit = "mm"
cutter = 3
currency = "EUR"
[materials.oak]
wood = "white oak"
sold = 20
measured = 19.4
price = "95 per m2"
[materials.clear]
acrylic = "clear"
sold = 4
measured = 3.9
price = "12 per ft2"
finish = { top = "sanded", underside = "clear", edge = "sanded" }
[materials.dowel]
wood = "beech"
price = "3 per m"
[[layer]]
name = "base"
material = "oak"
outline = { rectangle = [160, 110], corner_radius = 10 }
recess = { depth = 2 }
bore = { diameter = 6 }
opening = { circle = 2.5, around = { count = 4, circle = 40 } }
[[layer]]
name = "plate a"
material = "clear"
outline = { rectangle = [140, 90], corner_radius = 6 }
opening = { circle = 34 }
[[layer]]
name = "ring a"
material = "oak"
outline = { rectangle = [160, 110], corner_radius = 10 }
wall = 14
recess = { depth = 2, face = "underside" }
[[layer]]
name = "ring b"
material = "oak"
outline = { rectangle = [160, 110], corner_radius = 10 }
wall = 14
recess = { depth = 2 }
[[layer]]
name = "plate b"
material = "clear"
finish = { top = "clear", underside = "sanded", edge = "sanded" }
outline = { rectangle = [140, 90], corner_radius = 6 }
opening = { circle = 34 }
[[layer]]
name = "cap"
material = "oak"
outline = { rectangle = [160, 110], corner_radius = 10 }
chamfer = { edge = "top outer", width = 3 }
[[post]]
name = "pins"
material = "dowel"
outline = { circle = 2.5 }
from = "base"
to = "base"
around = { count = 4, circle = 40 }
[core]
material = "dowel"
outline = { circle = 30 }
height = 60
[feet]
price = "0.4 per piece"
[[light]]
helix = { pitch = 20 }
watts_per_metre = 9
price = "11 per m"
[cable]
price = "4.5 per piece"
"""


def box_study(folder: Path, text: str = BOX) -> Study:
    path = folder / "box.toml"
    path.write_text(text, encoding="utf-8")
    return Study(LampFile.read(path))
