"""A plain lamp for trials: four plates between rings round a lit tube, the plates of any finish."""

from dataclasses import dataclass
from pathlib import Path

import stackview as sv
from stackview.glow.flux import flux_of
from stackview.glow.hot_spots import pitch_of
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene, glow_scene
from stackview.sight.camera import Camera
from stackview.stack.assembly import Stack

EVENING = Room((), even=(2.0, 2.0, 2.0))

TEXT = """
name = "Trial Lamp"
cutter = 3
clearance = 0.2
materials.ash = { wood = "ash", sold = 15, measured = 14.8 }
materials.stock = { acrylic = "SORT", sold = 6, measured = 5.8FINISH }
materials.tube = { metal = "aluminium", coat = "paint" }
outlines.body = { circle = 120 }
surface = { height = 700 }

[[groups.tier]]
name = "ring"
material = "ash"
outline = "body"
wall = 14
recess = { depth = 1.5 }

[[groups.tier]]
name = "plate"
material = "stock"
outline = { circle = 106 }
opening = { circle = 44 }

[[layer]]
name = "base"
material = "ash"
outline = "body"
bore = { diameter = 6 }
opening = { circle = 10 }

[[layer]]
group = "tier"
repeat = 4

[[layer]]
name = "cap"
material = "ash"
outline = "body"

[core]
material = "tube"
outline = { circle = 32 }
wall = 2
height = 85
stands_on = "base"

[[light]]
helix = { pitch = 20 }
leds_per_metre = 60
width = 8
thickness = 2
colour_temperature = 3000
watts_per_metre = 4.8

[[eye]]
name = "level"
distance = 1000
height = 750
"""

CLEAR, OPAL = ("clear", ""), ("opal", "")


def sanded(roughness: float) -> tuple[str, str]:
    """Sort and finish of plates sanded on every face."""
    return "clear", f', finish = "sanded", roughness = {roughness:g}'


@dataclass(frozen=True, slots=True, eq=False)
class Trial:
    """The lamp made ready; ``pitch`` of its light points [mm]."""

    stack: Stack
    scene: GlowScene
    pitch: float


def trial(folder: Path, plates: tuple[str, str]) -> Trial:
    """Make the lamp with plates of a sort and finish."""
    file = folder / "trial.toml"
    file.write_text(TEXT.replace("SORT", plates[0]).replace("FINISH", plates[1]), encoding="utf-8")
    stack = sv.assemble(sv.load(file))
    light = sv.light_up(stack)
    return Trial(stack, glow_scene(stack, light, flux_of(light)), pitch_of(light.points))


def at_eye_level(made: Trial, size: tuple[int, int] = (640, 480)) -> Camera:
    """From 1 m away at the lamp's own height, a pixel of 0.86′: the lamp fills 640 × 480."""
    tall = 6.9 * size[1] / 480.0
    return Camera(20.0, 3.0, 1000.0, (0.0, 0.0, made.stack.height / 2.0), tall, size)


def at_a_plate(made: Trial, name: str = "plate 2") -> Camera:
    """The same place, but of the picture no more than one plate's band."""
    plate = next(part for part in made.stack.placed if part.name == name)
    middle = (plate.solid.vertices[:, 2].min() + plate.solid.vertices[:, 2].max()) / 2.0
    # The band's front lies 53 mm nearer than the axis, and is seen 3° from above.
    return Camera(20.0, 3.0, 1000.0, (0.0, 0.0, float(middle) - 2.8), 6.9 * 48 / 480.0, (520, 48))
