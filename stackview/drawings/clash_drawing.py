"""A plate that does not seat, drawn from above: the whole of it, and the place where it clashes, large."""

from collections.abc import Callable

import numpy as np
import shapely
import shapely.ops
from numpy.typing import NDArray

from stackview.curves.arcs import polygon
from stackview.drawings.chart_style import (
    FAINT,
    INK,
    KIND_COLOURS,
    QUIET,
    Extent,
    Sheet,
    blank,
    box_loop,
    broken_lines,
    disc,
    draw_line,
    fill_area,
    head,
    pixels,
    text_width,
    write,
)
from stackview.sight.bands import Kind
from stackview.stack.assembly import Stack
from stackview.stack.footprint import pieces, pocket_of
from stackview.stack.mending import how_to_seat
from stackview.stack.seating import Misfit

WOOD, _POCKET, PLATE, _CLASH = "#d9c7b0", "#f6f1e9", "#1f77b0", KIND_COLOURS[Kind.BARE]
_SIZE = (1600, 1000)
_FINE = 1e-3
"""Chord error of the large drawing [mm]; the decision itself is made on the exact curves."""

_Onto = Callable[[NDArray[np.float64]], NDArray[np.float64]]


def clash_drawing(stack: Stack) -> NDArray[np.uint8]:
    """Draw the worst misfit of a stack: (h, w, 3). ValueError where every layer fits its recess."""
    return pixels(clash_sheet(stack, _SIZE))


def clash_sheet(stack: Stack, size: tuple[int, int]) -> Sheet:
    """The drawing before it is turned into pixels, so that its words can be measured."""
    if not stack.misfits:
        raise ValueError("every layer fits its recess: there is no clash to draw")
    worst = max(stack.misfits, key=lambda misfit: misfit.fit.by)
    units, sheet = stack.lamp.units, blank(size)
    others = len(stack.misfits) - 1
    more = f" {others} more {'does' if others == 1 else 'do'} not fit either." if others else ""
    top = head(
        sheet,
        f"{stack.lamp.name}: {worst.layer.name} does not seat in {worst.host.name}",
        f"Seen from above. It reaches {units.show(worst.fit.by)} into the wall of the recess.{more}",
    )
    mends = broken_lines(
        sheet, how_to_seat(worst.layer, worst.host, worst.recess, units), 0.94 * sheet.width, most=3
    )
    low = (2.6 + 1.35 * len(mends)) * sheet.em
    for row, words in enumerate(mends):
        write(sheet, (1.2 * sheet.em, low - (1.9 + 1.35 * row) * sheet.em), words)
    top -= 0.6 * sheet.em
    half, gap = sheet.width / 2.0, 1.2 * sheet.em
    _panel(sheet, worst, (gap, low + 1.6 * sheet.em, half - gap / 2, top), None)
    _panel(sheet, worst, (half + gap / 2, low + 1.6 * sheet.em, sheet.width - gap, top), _reach(worst))
    _legend(sheet, low)
    return sheet


def _reach(misfit: Misfit) -> float:
    """Half the width of what the large drawing shows [mm]."""
    return max(1.6 * misfit.recess.outline.cutter_radius, 6.0 * misfit.fit.by, 1.0)


def _panel(sheet: Sheet, misfit: Misfit, box: Extent, reach: float | None) -> None:
    """One view from above: all of it, or what lies within ``reach`` [mm] of the clash."""
    host = [polygon(piece, _FINE) for piece in pieces(misfit.host)]
    plate = [polygon(piece, _FINE) for piece in pieces(misfit.layer)]
    pocket = polygon(pocket_of(misfit.host, misfit.recess), _FINE)
    at = np.array(misfit.fit.at)
    every = np.concatenate(host)
    middle = at if reach is not None else (every.min(axis=0) + every.max(axis=0)) / 2.0
    span = 2.0 * reach if reach is not None else 1.06 * float(np.ptp(every, axis=0).max())
    scale = min(box[2] - box[0], box[3] - box[1]) / span
    centre = np.array([(box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0])

    def onto(points: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray(centre + (np.asarray(points) - middle) * scale)

    frame = [box_loop(box)]
    fill_area(sheet, _clipped(host, box, onto), WOOD)
    fill_area(sheet, _clipped([pocket], box, onto), _POCKET, edge=INK)
    beyond = shapely.union_all([shapely.Polygon(one) for one in plate]).difference(shapely.Polygon(pocket))
    loops = [np.array(part.exterior.coords) for part in getattr(beyond, "geoms", [beyond]) if part.area > 0]
    if reach is not None:
        fill_area(sheet, _clipped(loops, box, onto), _CLASH, opacity=0.85, over=4.0)
        _cutter(sheet, misfit, onto, frame)
    draw_line(
        sheet, [onto(np.vstack([one, one[:1]])) for one in plate], colour=PLATE, width=2.5, within=frame
    )
    if reach is None:
        disc(sheet, tuple(onto(at)), 0.9 * sheet.em, "none", edge=_CLASH)
    draw_line(sheet, [np.vstack([frame[0], frame[0][:1]])], colour=FAINT)


def _clipped(loops: list[NDArray[np.float64]], box: Extent, onto: _Onto) -> list[NDArray[np.float64]]:
    window = shapely.box(*box)
    found: list[NDArray[np.float64]] = []
    for loop in loops:
        cut = shapely.make_valid(shapely.Polygon(onto(loop))).intersection(window)
        found.extend(
            np.array(part.exterior.coords)[:-1]
            for part in getattr(cut, "geoms", [cut])
            if part.geom_type == "Polygon" and part.area > 0
        )
    return found


def _cutter(sheet: Sheet, misfit: Misfit, onto: _Onto, frame: list[NDArray[np.float64]]) -> None:
    """The cutter where it comes nearest to the clash: inside the recess, touching its wall there."""
    radius = misfit.recess.outline.cutter_radius
    if not radius:
        return
    room = shapely.Polygon(polygon(pocket_of(misfit.host, misfit.recess), _FINE)).buffer(
        -radius * (1.0 - 1e-6)
    )
    if room.is_empty:
        return
    nearest = shapely.ops.nearest_points(room, shapely.Point(misfit.fit.at))[0]
    turn = np.linspace(0.0, 2.0 * np.pi, 97)
    ring = np.array([nearest.x, nearest.y]) + radius * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    draw_line(sheet, [onto(ring)], colour=QUIET, dashes=(0.5, 0.35), within=frame)


def _legend(sheet: Sheet, y: float) -> None:
    x = 1.2 * sheet.em
    for words, fill, edge in (
        ("host", WOOD, None),
        ("recess as cut", _POCKET, INK),
        ("part that should seat", "#ffffff", PLATE),
        ("where it meets the wall", _CLASH, None),
    ):
        swatch = box_loop((x, y - 0.1 * sheet.em, x + 1.3 * sheet.em, y + 0.7 * sheet.em))
        fill_area(sheet, [swatch], fill, edge=edge or INK, width=2.0 if edge == PLATE else 1.0)
        write(sheet, (x + 1.8 * sheet.em, y + 0.3 * sheet.em), words, upright="center")
        x += 3.6 * sheet.em + text_width(sheet, words)
    draw_line(
        sheet,
        [[(x, y + 0.3 * sheet.em), (x + 1.8 * sheet.em, y + 0.3 * sheet.em)]],
        colour=QUIET,
        dashes=(0.5, 0.35),
    )
    write(sheet, (x + 2.3 * sheet.em, y + 0.3 * sheet.em), "cutter", upright="center")
