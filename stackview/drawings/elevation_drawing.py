"""The elevation: a parallel view with dimensions, overall, of every layer, and of overhangs."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stackview.description.units import Units
from stackview.drawings.chart_style import (
    INK,
    PAPER,
    QUIET,
    Sheet,
    blank,
    draw_line,
    fill_area,
    head,
    shortened,
    text_width,
    write,
)
from stackview.drawings.inked import inked, on_tone
from stackview.drawings.label_spread import spread
from stackview.in_figures import bearing_words
from stackview.sight.camera import Camera, axes, project
from stackview.stack.assembly import Stack
from stackview.stack.placed import Placed
from stackview.stack.plan import box_across
from stackview.stills.apart import building_order
from stackview.stills.kept_light import baked
from stackview.stills.mix import PLAIN_DAY
from stackview.stills.setting import assembled, lifted, without_cord
from stackview.stills.studio import shoot
from stackview.stills.viewpoints import parallel_view
from stackview.study import Study

_SMALL = 0.86
_LEAST = 0.05
"""Overhangs smaller than this are not written [mm]."""
_WHITE = (255, 255, 255)


@dataclass(frozen=True, slots=True)
class Overhang:
    """How far one layer reaches past its neighbour at a side of the view."""

    longer: str
    shorter: str
    height: float
    """Where the two meet [mm]."""
    begin: float
    end: float
    """Across the view: the shorter one's side, then the longer one's [mm]."""

    @property
    def by(self) -> float:
        """The overhang [mm]."""
        return abs(self.end - self.begin)


def elevation_picture(
    study: Study,
    units: Units,
    *,
    size: tuple[int, int],
    bearing: float = 0.0,
    cut_out: bool = False,
) -> NDArray[np.uint8]:
    """Draw the lamp in parallel projection with its dimensions: (h, w, 3), or (h, w, 4) where cut out."""
    sheet, camera = elevation_sheet(study.stack, units, size, bearing)
    setting = without_cord(lifted(assembled(study.stack, study.light)))
    picture = shoot(baked(setting), camera, mix=PLAIN_DAY, cut_out=True)
    return inked(sheet, on_tone(picture, _WHITE, cut_out=cut_out))


def elevation_sheet(
    stack: Stack, units: Units, size: tuple[int, int], bearing: float
) -> tuple[Sheet, Camera]:
    """Draw title and dimensions on a sheet; the camera's picture belongs under them."""
    sheet = blank(size)
    em = sheet.em
    body = [part for part in stack.placed if not part.is_cord]
    layers = [part for part in building_order(stack) if not part.passes_openings]
    points = np.concatenate([part.solid.vertices for part in body])
    x0, y0, x1, y1 = box_across(stack.lamp, body, bearing)
    all_over = units.span(x1 - x0, y1 - y0, stack.height)
    top = head(
        sheet,
        f"{stack.lamp.name}: elevation from bearing {bearing_words(bearing)}",
        f"Parallel projection. Over all {all_over} (width × depth × height). "
        "Left: thickness of each layer. Right: overhangs.",
    )
    hangs = overhangs(layers, lambda part: box_across(stack.lamp, [part], bearing)[2])
    left_words = [f"{part.name}: {units.show(part.tall)}" for part in layers]
    right_words = [_overhang_words(hang, units) for hang in hangs]
    wide_left = min(max(text_width(sheet, words, _SMALL) for words in left_words), 0.36 * size[0])
    wide_left += (10.5 + 0.8 * max(_columns(layers))) * em
    wide_right = max((text_width(sheet, words, _SMALL) for words in right_words), default=0.0)
    wide_right = max(min(wide_right, 0.36 * size[0]) + 5.4 * em, 6.0 * em)
    room = (wide_left, size[1] - top + 1.5 * em, size[0] - wide_right, size[1] - 5.0 * em)
    camera = parallel_view(points, bearing, 0.0, size, room)
    at = project(camera, points)
    box = (
        float(at[:, 0].min()),
        size[1] - float(at[:, 1].max()),
        float(at[:, 0].max()),
        size[1] - float(at[:, 1].min()),
    )
    ruler = _Ruler(camera, size[1], axes(bearing, 0.0)[0])
    _thicknesses(sheet, layers, left_words, ruler, box)
    _overhangs(sheet, hangs, right_words, ruler, box, top)
    _overall(sheet, box, units.show(x1 - x0), units.show(stack.height))
    return sheet, camera


@dataclass(frozen=True, slots=True)
class _Ruler:
    """Where places of the view fall on the sheet."""

    camera: Camera
    tall: int
    right: NDArray[np.float64]

    def at(self, across: float, height: float) -> tuple[float, float]:
        """Place on the sheet [px, from the lower left] of (across, height) [mm]."""
        place = across * self.right + np.array([0.0, 0.0, height])
        x, y = project(self.camera, place[None])[0].tolist()
        return x, self.tall - y


def overhangs(layers: Sequence[Placed], reach: Callable[[Placed], float]) -> list[Overhang]:
    """Overhangs (from the bottom up) on the view's right side between layers that follow each other."""
    found = []
    for lower, upper in pairwise(layers):
        low, high = (reach(part) for part in (lower, upper))
        if abs(high - low) < _LEAST:
            continue
        longer, shorter = (upper, lower) if high > low else (lower, upper)
        # Where one drops into the other, the step is at the upper face of the one it lies in.
        height = min(lower.top, upper.top) if upper.underside < lower.top else upper.underside
        found.append(Overhang(longer.name, shorter.name, height, min(low, high), max(low, high)))
    return found


def _overhang_words(hang: Overhang, units: Units) -> str:
    return f"{hang.longer} past {hang.shorter}: {units.show(hang.by)}"


def _columns(layers: Sequence[Placed]) -> list[int]:
    """Column of each layer's bracket: the first in which it meets no other."""
    ends: list[float] = []
    found = []
    for part in layers:
        free = [k for k, end in enumerate(ends) if part.underside >= end - 1e-6]
        column = free[0] if free else len(ends)
        ends[column : column + 1] = [part.top]
        found.append(column)
    return found


def _thicknesses(
    sheet: Sheet,
    layers: Sequence[Placed],
    words: Sequence[str],
    ruler: _Ruler,
    box: tuple[float, float, float, float],
) -> None:
    """Brackets from each layer's underside to its top, and fanned-out words beside them."""
    em = sheet.em
    columns = _columns(layers)
    step = 0.8 * em
    near = box[0] - 1.0 * em
    middles = spread(
        [ruler.at(0.0, (part.underside + part.top) / 2.0)[1] for part in layers],
        [1.25 * em] * len(layers),
        2.0 * em,
        box[3] + 4.0 * em,
    )
    last = near - step * max(columns)
    elbow = last - 2.2 * em
    for number, (part, column) in enumerate(zip(layers, columns, strict=True)):
        x = near - step * column
        low, high = ruler.at(0.0, part.underside)[1], ruler.at(0.0, part.top)[1]
        low, high = low + 0.8, high - 0.8
        draw_line(sheet, [[(x, low), (x, high)], [(x - 0.22 * em, low), (x + 0.22 * em, low)],
                          [(x - 0.22 * em, high), (x + 0.22 * em, high)]], width=1.0)  # fmt: skip
        if middles is None:
            continue
        y = middles[number]
        middle = (low + high) / 2.0
        leader = [(x, middle), (last - 0.6 * em, middle), (elbow, y), (elbow - 0.5 * em, y)]
        draw_line(sheet, [leader], colour=QUIET, width=0.7)
        text = shortened(sheet, words[number], elbow - 4.8 * em, _SMALL)
        write(sheet, (elbow - 1.0 * em, y), text, size=_SMALL, across="right")


def _overhangs(
    sheet: Sheet,
    hangs: Sequence[Overhang],
    words: Sequence[str],
    ruler: _Ruler,
    box: tuple[float, float, float, float],
    top: float,
) -> None:
    em = sheet.em
    if not hangs:
        return
    column = box[2] + 3.6 * em
    places = [ruler.at(hang.end, hang.height) for hang in hangs]
    low, high = 2.0 * em, top
    most = int((high - low) / (1.25 * em))
    shown = sorted(sorted(range(len(hangs)), key=lambda k: -hangs[k].by)[:most])
    middles = spread([places[k][1] for k in shown], [1.25 * em] * len(shown), low, high)
    if middles is None:
        return
    for k, y in zip(shown, middles, strict=True):
        hang = hangs[k]
        begin, end = ruler.at(hang.begin, hang.height), places[k]
        tick = 0.26 * em
        marks = [[begin, end], *([(x, z - tick), (x, z + tick)] for x, z in (begin, end))]
        draw_line(sheet, marks, colour=PAPER, width=3.4, over=6.0, opacity=0.8)
        draw_line(sheet, marks, colour=INK, width=1.2, over=6.1)
        draw_line(sheet, [[(box[2] + 0.7 * em, end[1]), (column - 0.9 * em, y), (column - 0.4 * em, y)],
                          [(end[0] + 0.5 * em, end[1]), (box[2] + 0.7 * em, end[1])]],
                  colour=QUIET, width=0.7)  # fmt: skip
        room = sheet.width - column - 0.8 * em
        write(sheet, (column, y), shortened(sheet, words[k], room, _SMALL), size=_SMALL)


def _overall(sheet: Sheet, box: tuple[float, float, float, float], wide: str, tall: str) -> None:
    """Overall width below and overall height on the far left."""
    em = sheet.em
    left, low, right, high = box
    y = low - 2.6 * em
    for x in (left, right):
        draw_line(sheet, [[(x, low - 0.5 * em), (x, y - 0.5 * em)]], colour=QUIET, width=0.7)
    _dimension(sheet, (left, y), (right, y), wide)
    x = 2.0 * em
    for end in (low, high):
        draw_line(sheet, [[(x - 0.5 * em, end), (x + 0.5 * em, end)]], colour=QUIET, width=0.7)
    _dimension(sheet, (x, low), (x, high), tall)


def _dimension(sheet: Sheet, begin: tuple[float, float], end: tuple[float, float], words: str) -> None:
    """Draw a dimension line, level or upright, with arrow heads; its text stands in a gap of its own.

    Text too long for that goes beside the line, or is left out where it would leave the picture.
    """
    em = sheet.em
    start, stop = np.array(begin), np.array(end)
    long = float(np.hypot(*(stop - start)))
    way = (stop - start) / max(long, 1e-9)
    upright = abs(way[1]) > 0.5
    need = text_width(sheet, words) + 1.4 * em
    middle = (start + stop) / 2.0
    if need < long - 3.0 * em:
        draw_line(sheet, [[begin, middle - way * need / 2.0], [middle + way * need / 2.0, end]])
        # Words turned upright stand on their baseline: half the height of a figure off the line.
        at = middle + np.array([0.36 * em, 0.0]) if upright else middle - np.array([0.0, 0.36 * em])
        write(sheet, (float(at[0]), float(at[1])), words, across="center", upright="baseline",
              turn=90.0 if upright else 0.0)  # fmt: skip
    else:
        draw_line(sheet, [[begin, end]])
        if not upright:
            write(sheet, (float(middle[0]), float(middle[1]) - 1.5 * em), words, across="center")
    aside = np.array([-way[1], way[0]])
    for tip, back in ((start, way), (stop, -way)):
        head_of = [tip, tip + 0.75 * em * back + 0.2 * em * aside, tip + 0.75 * em * back - 0.2 * em * aside]
        fill_area(sheet, [np.array(head_of)], INK, over=6.0)
