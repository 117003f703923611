"""The spread picture: layers apart along the axis, each with a leader to what it is."""

from dataclasses import replace
from typing import assert_never

import numpy as np
from numpy.typing import NDArray

from stackview.description.lamp import Lamp
from stackview.description.units import Units
from stackview.drawings.chart_style import (
    Sheet,
    blank,
    shortened,
    write,
)
from stackview.drawings.inked import inked, on_tone
from stackview.drawings.part_labels import Label, write_labels
from stackview.sight.camera import Camera, project
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed
from stackview.stack.plan import outline_of
from stackview.stills.apart import building_order, spread_apart
from stackview.stills.kept_light import baked
from stackview.stills.mix import SPREAD
from stackview.stills.setting import Setting
from stackview.stills.studio import shoot
from stackview.stills.viewpoints import parallel_view
from stackview.study import Study


def size_words(lamp: Lamp, part: Placed, units: Units) -> str:
    """Write how large a part is in plan, and how many there are of it."""
    outline, copies = outline_of(lamp, part)
    words = outline.size(units)
    return f"{copies.count} × {words}" if copies is not None and copies.count > 1 else words


def part_lines(lamp: Lamp, part: Placed, units: Units) -> tuple[str, str]:
    """Name of a part, and its material, thickness and size."""
    tall = f"{units.show(part.tall)} {_upright(part)}"
    return part.name, f"{_material(part)}, {tall}, {size_words(lamp, part, units)}"


def _upright(part: Placed) -> str:
    return "thick" if part.is_layer else "high" if part.is_foot else "long"


def _material(part: Placed) -> str:
    material = part.material.name
    match part.sort:
        case "opal":
            return f"{material} (opal acrylic)"
        case "sanded":
            return f"{material} (clear acrylic, {part.finish.words})"
        case "clear":
            return f"{material} (clear acrylic)"
        case "opaque":
            return material
        case _:
            assert_never(part.sort)


SPREAD_BEARING, SPREAD_ELEVATION = 24.0, 22.0
_SHARE = 0.5
"""Share of the picture's width that the lamp has, at most."""


def spread_picture(
    study: Study,
    units: Units,
    *,
    size: tuple[int, int],
    bearing: float = SPREAD_BEARING,
    elevation: float = SPREAD_ELEVATION,
    cut_out: bool = False,
) -> NDArray[np.uint8]:
    """Draw the layers apart with their labels: (h, w, 3), or (h, w, 4) where they are to be cut out."""
    setting = spread_apart(study.stack, study.light)
    sheet, camera = spread_sheet(study.stack, setting, units, size, bearing, elevation)
    picture = shoot(baked(setting), camera, mix=SPREAD, cut_out=True)
    return inked(sheet, on_tone(picture, cut_out=cut_out))


def spread_sheet(
    stack: Stack, setting: Setting, units: Units, size: tuple[int, int], bearing: float, elevation: float
) -> tuple[Sheet, Camera]:
    """Title, leaders and labels on a sheet, and the camera whose picture they belong to."""
    width, height = size
    sheet = replace(blank(size), em=max(15.0 * min(width / 1000.0, height / 1200.0), 10.5))
    em = sheet.em
    write(sheet, (1.6 * em, height - 2.4 * em), shortened(sheet, stack.lamp.name, width - 3.2 * em, 1.5, bold=True),
          size=1.5, bold=True, upright="baseline")  # fmt: skip
    points = np.concatenate([part.solid.vertices for part in setting.placed])
    room = (2.0 * em, 4.2 * em, _SHARE * width, height - 2.0 * em)
    camera = parallel_view(points, bearing, elevation, size, room)
    # A lamp that is narrow in the picture leaves more room to its words.
    at = project(camera, points)
    column = float(at[:, 0].max()) + 4.5 * em
    # Labels hold on to the order of the parts, from the bottom up, whatever the angle of view.
    labels = [_label(stack, part, camera, height, units) for part in _building_order_of(stack, setting)]
    write_labels(sheet, labels, column)
    return sheet, camera


def _building_order_of(stack: Stack, setting: Setting) -> list[Placed]:
    """The setting's parts in the order in which they go on."""
    by_name = {part.name: part for part in setting.placed}
    return [by_name[part.name] for part in building_order(stack) if part.name in by_name]


def _label(stack: Stack, part: Placed, camera: Camera, height: int, units: Units) -> Label:
    """A part's words, and the place on its right side at half its height."""
    name, what = part_lines(stack.lamp, part, units)
    vertices = part.solid.vertices
    at = project(camera, vertices)
    near = at[at[:, 0] >= at[:, 0].max() - 0.5]
    x, y = float(near[:, 0].max()), float(near[:, 1].min() + near[:, 1].max()) / 2.0
    size = f"{size_words(stack.lamp, part, units.alone)}, {units.alone.show(part.tall)} {_upright(part)}"
    return Label(name, what, (size, _material(part)), (x - 1.0, height - y))
