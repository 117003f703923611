"""The contact sheet: the views of a lamp on one page, with what there is to know about it."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from stackview.description.units import Units
from stackview.drawings.chart_style import (
    FAINT,
    INK,
    QUIET,
    Sheet,
    blank,
    box_loop,
    fill_area,
    shortened,
    with_noun,
    write,
)
from stackview.drawings.inked import inked, on_tone
from stackview.drawings.spread_drawing import SPREAD_BEARING, SPREAD_ELEVATION
from stackview.in_figures import figure
from stackview.stack.plan import box_across
from stackview.stills.apart import spread_apart
from stackview.stills.kept_light import baked
from stackview.stills.mix import SPREAD
from stackview.stills.studio import shoot
from stackview.stills.viewpoints import parallel_view
from stackview.study import Study

SHEET_VIEWS = ("studio", "evening", "half", "front", "side", "spread", "top", "beneath")
_GAP = 1.0
"""Between cells and round them [em]."""


def contact_sheet(
    study: Study,
    cell: Callable[[str, tuple[int, int]], NDArray[np.uint8]],
    units: Units,
    size: tuple[int, int],
    *,
    cut_out: bool = False,
) -> NDArray[np.uint8]:
    """Lay the views out three by three: (h, w, 3), or (h, w, 4) with nothing between them where cut out.

    ``cell`` draws a view by name at a size.
    """
    sheet = blank(size)
    em, gap = sheet.em, round(_GAP * sheet.em)
    foot, top = round(2.0 * em), round(3.6 * em)
    wide = (size[0] - 4 * gap) // 3
    tall = (size[1] - top - 3 * foot - 3 * gap) // 3
    under = np.full((size[1], size[0], 4 if cut_out else 3), 255, np.uint8)
    if cut_out:
        under[:, :, 3] = 0
    title = shortened(sheet, study.lamp.name, size[0] - 2.0 * gap, 1.5, bold=True)
    write(sheet, (gap, size[1] - 2.3 * em), title, size=1.5, bold=True, upright="baseline")
    for number, view in enumerate(SHEET_VIEWS):
        left = gap + (number % 3) * (wide + gap)
        upper = top + (number // 3) * (tall + foot + gap)
        picture = _parts(study, (wide, tall)) if view == "spread" else cell(view, (wide, tall))
        under[upper : upper + tall, left : left + wide, :3] = picture
        if cut_out:
            under[upper : upper + tall, left : left + wide, 3] = 255
        write(sheet, (left, size[1] - upper - tall - 1.25 * em), view, size=0.9, upright="baseline")
    left, upper = gap + 2 * (wide + gap), top + 2 * (tall + foot + gap)
    _facts(sheet, (left, size[1] - upper - tall, left + wide, size[1] - upper), _lines(study, units))
    return inked(sheet, under)


def _parts(study: Study, size: tuple[int, int]) -> NDArray[np.uint8]:
    """The layers apart, without words, which would be too small to read."""
    setting = spread_apart(study.stack, study.light)
    points = np.concatenate([part.solid.vertices for part in setting.placed])
    margin = 0.04 * size[1]
    room = (margin, margin, size[0] - margin, size[1] - margin)
    camera = parallel_view(points, SPREAD_BEARING, SPREAD_ELEVATION, size, room)
    return on_tone(shoot(baked(setting), camera, mix=SPREAD, cut_out=True))


def _lines(study: Study, units: Units) -> list[tuple[str, str]]:
    stack, light = study.stack, study.light
    body = [part for part in stack.placed if not part.is_cord]
    x0, y0, x1, y1 = box_across(stack.lamp, body, 0.0)
    layers = sum(part.is_layer for part in stack.placed)
    sorts = list(dict.fromkeys(part.material.name for part in body))
    watts = [lit.watts for lit in light.lit]
    power = f", {figure(sum(w for w in watts if w is not None), 1)} W" if watts and None not in watts else ""
    return [
        ("width", units.show(x1 - x0)),
        ("depth", units.show(y1 - y0)),
        ("height", units.show(stack.height)),
        ("layers", f"{layers}, {figure(stack.grams)} g without wiring"),
        ("materials", ", ".join(sorts)),
        ("light", with_noun(len(light.points), "light point") + power),
    ]


def _facts(sheet: Sheet, box: tuple[float, float, float, float], rows: list[tuple[str, str]]) -> None:
    em = sheet.em
    left, low, right, high = box
    fill_area(sheet, [box_loop(box)], None, edge=FAINT)
    step = min(2.0 * em, (high - low - 1.6 * em) / len(rows))
    y = (low + high) / 2.0 + step * (len(rows) - 1) / 2.0
    for name, what in rows:
        write(sheet, (left + 1.4 * em, y), name, size=0.9, colour=QUIET)
        room = right - left - 9.0 * em
        write(sheet, (left + 7.6 * em, y), shortened(sheet, what, room, 0.95), size=0.95, colour=INK)
        y -= step
