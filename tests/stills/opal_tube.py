"""A plain lamp for evenings: an opal tube of six rings round a lit post, between base and lid."""

from pathlib import Path

from stackview.stills.setting import Setting, assembled
from stackview.study import Study

STRIP = """
[[light]]
helix = { pitch = 24 }
leds_per_metre = 60
width = 8
thickness = 2
watts_per_metre = 4.8
"""
"""A strip wound on a post."""
TUBE = """
name = "Tube"
materials.ash = { wood = "ash", sold = 15 }
materials.milk = { acrylic = "opal", sold = 10 }
materials.post = { metal = "aluminium", coat = "paint" }
surface = { height = 700 }

[[layer]]
name = "base"
material = "ash"
outline = { circle = 100 }

[[groups.shade]]
name = "shade"
material = "milk"
outline = { circle = 80 }
wall = 4

[[layer]]
group = "shade"
repeat = 6

[[layer]]
name = "lid"
material = "ash"
outline = { circle = 100 }

[core]
material = "post"
outline = { circle = 24 }
wall = 2
height = 58
stands_on = "base"
"""


def opal_tube(folder: Path) -> tuple[Study, Setting]:
    """The lamp as built."""
    file = folder / "tube.toml"
    file.write_text(TUBE + STRIP, encoding="utf-8")
    study = Study.read(file)
    return study, assembled(study.stack, study.light)
