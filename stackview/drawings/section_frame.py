"""The frame of a section drawing: the lamp in it at one scale, its parts named, what it stands on, the scale bar."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from stackview.description.units import Units
from stackview.drawings.chart_style import (
    FAINT,
    INK,
    Extent,
    Sheet,
    box_loop,
    draw_line,
    fill_area,
    text_width,
    write,
)
from stackview.drawings.section_margins import EdgeLabel, LayerName, draw_names, edge_width, names_width
from stackview.drawings.section_parts import draw_part, leader_end
from stackview.stack.assembly import Stack
from stackview.stack.section import CutFace


@dataclass(frozen=True, slots=True)
class View:
    """The frame on the sheet [px] and how (across, height) [mm] falls into it, at one scale both ways."""

    frame: Extent
    scale: float
    """[px/mm]"""
    zero: tuple[float, float]
    """Where the axis meets z = 0 [px]."""

    def onto(self, places: NDArray[np.float64]) -> NDArray[np.float64]:
        """Places (k, 2) on the sheet [px] of (across, height) [mm]."""
        return np.asarray(places * self.scale + np.array(self.zero), np.float64)

    def at(self, across: float, height: float) -> tuple[float, float]:
        """One place on the sheet [px]."""
        return self.zero[0] + across * self.scale, self.zero[1] + height * self.scale


def view_of_lamp(
    sheet: Sheet,
    stack: Stack,
    faces: Sequence[CutFace],
    eyes: Sequence[str],
    top: float,
    below: float,
    share: float = 0.58,
) -> View:
    """Lay the frame out and fit the lamp into it, towards the left so that rays have room.

    ``share`` of the frame's width is the most that the lamp takes.
    """
    em = sheet.em
    names = [face.part.name for face in faces] + ["surface"] * (stack.lamp.surface is not None)
    dummy = [EdgeLabel(words, INK, (0.0, 0.0), "right", None, 0) for words in (*eyes, "A B +00.0°")]
    frame = (
        max(names_width(sheet, names), 4.0 * em),
        below + 3.3 * em,
        sheet.width - edge_width(sheet, dummy),
        top - 3.4 * em,
    )
    boxes = np.array([face.box for face in faces]) if faces else np.array([[-50.0, 0.0, 50.0, 100.0]])
    left, low = min(float(boxes[:, 0].min()), -1.0), min(float(boxes[:, 1].min()), 0.0)
    right, high = max(float(boxes[:, 2].max()), 1.0), max(float(boxes[:, 3].max()), stack.height, 1.0)
    wide, tall = frame[2] - frame[0], frame[3] - frame[1]
    foot = 3.6 * em
    scale = min(share * wide / (right - left), 0.86 * (tall - foot) / (high - low))
    spare = tall - foot - (high - low) * scale
    zero = (frame[0] + 0.07 * wide - left * scale, frame[1] + foot + 0.5 * spare - low * scale)
    return View(frame, scale, zero)


def draw_lamp(
    sheet: Sheet, view: View, faces: Sequence[CutFace], bearing: float, span: tuple[float, float] | None
) -> None:
    """Draw the cut parts with their names, what the lamp stands on, the axis and the scale bar."""
    em = sheet.em
    left, low, right, high = view.frame
    fill_area(sheet, [box_loop(view.frame)], None, edge=FAINT, over=2.0)
    axis = view.zero[0]
    draw_line(
        sheet,
        [[(axis, low + 2.6 * em), (axis, high)]],
        colour=FAINT,
        width=1.0,
        dashes=(0.9, 0.3, 0.2, 0.3),
        over=2.1,
    )
    names = _names(view, faces, em)
    if span is not None:
        ends = np.clip([view.at(span[0], 0)[0], view.at(span[1], 0)[0]], left, right)
        slab = box_loop((float(ends[0]), view.zero[1] - 0.5 * em, float(ends[1]), view.zero[1]))
        fill_area(sheet, [slab], "#e6e4df", over=2.2)
        draw_line(
            sheet, [[(float(ends[0]), view.zero[1]), (float(ends[1]), view.zero[1])]], width=1.4, over=2.3
        )
        names.append(LayerName("surface", (float(ends[0]) + 0.8 * em, view.zero[1] - 0.25 * em)))
    for face in faces:
        draw_part(sheet, face, view.onto, bearing)
    draw_names(sheet, view.frame, names)


def _names(view: View, faces: Sequence[CutFace], em: float) -> list[LayerName]:
    """Find for each part where its leader ends, just inside its left side."""
    names: list[LayerName] = []
    taken: list[float] = []
    for face in faces:
        across, height = leader_end(face, faces, taken, 0.55 * em / view.scale)
        taken.append(height)
        names.append(LayerName(face.part.name, view.at(across + 0.45 * em / view.scale, height)))
    return names


def draw_scale_bar(sheet: Sheet, view: View, units: Units) -> None:
    """Draw a bar of a round length under the lamp, with its length."""
    em = sheet.em
    left, low, right, _ = view.frame
    room = min(0.16 * (right - left), view.zero[0] - left - 2.0 * em)
    length = units.round_length(room / view.scale)
    begin, end, y = left + em, left + em + length * view.scale, low + 0.9 * em
    ticks = [[(x, y), (x, y + 0.4 * em)] for x in (begin, end)]
    draw_line(sheet, [[(begin, y), (end, y)], *ticks], width=1.6, over=6.0)
    words = units.plain(length)
    middle = max((begin + end) / 2.0, begin + text_width(sheet, words, 0.85) / 2.0)
    write(sheet, (middle, y + 0.75 * em), words, size=0.85, across="center", upright="baseline")


def far(view: View, start: tuple[float, float], elevation: float) -> tuple[float, float]:
    """A place [px] well outside the frame, from ``start`` [px] at an elevation [°]."""
    left, low, right, high = view.frame
    reach, radians = 4.0 * (right - left + high - low), np.radians(elevation)
    return start[0] + reach * float(np.cos(radians)), start[1] + reach * float(np.sin(radians))


def point_at(place: tuple[float, ...]) -> BaseGeometry:
    """A place as a shape."""
    return Point(place)


def lines_of(shape: BaseGeometry) -> list[LineString]:
    """The lines of which a shape is made."""
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, LineString) and not part.is_empty]


def frame_side(view: View, at: tuple[float, float]) -> str:
    """The side of the frame nearest to a place [px]: right, top or bottom."""
    _, low, right, high = view.frame
    return min((abs(at[0] - right), "right"), (abs(at[1] - high), "top"), (abs(at[1] - low), "bottom"))[1]


def way_round(bearing: float) -> str:
    """Name the nearest of eight ways round the lamp."""
    ways = ("front", "front right", "right", "back right", "back", "back left", "left", "front left")
    return ways[round(bearing / 45.0) % 8]
