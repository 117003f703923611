"""The section drawing: the lamp cut upright at a bearing, with the rays that bound what shows."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from stackview.description.units import Units
from stackview.drawings.chart_style import (
    FAINT,
    INK,
    KIND_COLOURS,
    Extent,
    Sheet,
    blank,
    box_loop,
    degrees,
    disc,
    draw_line,
    fill_area,
    head,
    pixels,
    text_width,
    with_noun,
    write,
)
from stackview.drawings.section_margins import (
    LIGHT,
    ROW,
    EdgeLabel,
    LayerName,
    draw_edge_labels,
    draw_key,
    draw_legend,
    draw_names,
    edge_width,
    key_lines,
    key_rows,
    legend_entries,
    letter,
    names_width,
)
from stackview.drawings.section_parts import draw_part, leader_end
from stackview.drawings.section_rays import (
    IN_PLANE,
    NEAR_AXIS,
    SectionRays,
    Wedge,
    section_rays,
    surface_span,
    telling_bearing,
)
from stackview.sight.bands import Kind
from stackview.sight.summary import Sightlines
from stackview.stack.assembly import Stack
from stackview.stack.section import CutFace, section
from stackview.stills.picture import Picture, picture_of
from stackview.stills.views import check_bearing
from stackview.study import Study, of_study


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


@of_study
def section_drawing(
    study: Study, bearing: float | None = None, size: tuple[int, int] = (1600, 1200)
) -> Picture:
    """Draw the section at the computed bearing nearest to ``bearing`` [°]: (h, w, 3).

    Without a bearing, the one from which most bare points show (see :func:`telling_bearing`).
    The picture has exactly ``size`` (width, height) [px].

    Raises
    ------
    ValueError
        When ``size`` is too small to hold legible text.
    OutputError
        When one of the two is no bearing or no size.
    """
    if bearing is not None:
        check_bearing(bearing)
    return picture_of(pixels(section_sheet(study.sightlines, study.stack, bearing, size)))


def section_sheet(
    sightlines: Sightlines, stack: Stack, bearing: float | None, size: tuple[int, int]
) -> Sheet:
    """Draw the section on a sheet that can still be measured."""
    sheet = blank(size)
    most = 5 if sheet.height > 48 * sheet.em else 3
    rays = section_rays(sightlines, telling_bearing(sightlines) if bearing is None else bearing, most)
    # A cord is many times as long as the lamp, and would leave the gaps no room.
    faces = [face for face in section(stack, rays.bearing) if not face.part.is_cord]
    top = head(sheet, *_words(sightlines, stack, rays))
    legend = legend_entries(sheet, [face.part for face in faces])
    every = {(index, end) for index in range(len(rays.wedges)) for end in ("low", "high")}
    lines = len(key_lines(sheet, key_rows(rays, every)))
    below = (lines + legend[-1][3] + 2.2) * ROW * sheet.em
    view = _placed(sheet, stack, faces, _eye_words(sightlines), top, below)
    span = surface_span(stack.lamp.surface, rays.bearing)
    _lamp(sheet, view, faces, rays, span)
    _scale_bar(sheet, view, stack.lamp.units.alone)
    ends = _draw_rays(sheet, view, rays, span)
    wanted = [*_eye_labels(sightlines, stack, view), *_ray_labels(view, rays, ends)]
    labels = draw_edge_labels(sheet, view.frame, wanted)
    written = {end for label in labels for end in label.ends}
    draw_key(sheet, rays.wedges, key_lines(sheet, key_rows(rays, written), lines), below)
    draw_legend(sheet, legend, rays.bearing, below - (lines + 0.5) * ROW * sheet.em)
    return sheet


def _words(sightlines: Sightlines, stack: Stack, rays: SectionRays) -> tuple[str, str]:
    """Title and the line under it."""
    total = len(sightlines.points)
    showing = [(number, kind.word) for kind, number in rays.showing.items() if number]
    where = f"{degrees(rays.bearing, signed=False)} ({_way(rays.bearing)})"
    title = f"{stack.lamp.name}: section at bearing {where}"
    if showing:
        # One point can show bare at one elevation and veiled at another: the numbers do not add up.
        (first, word), *rest = showing
        also = "".join(f", {number} {other}" for number, other in rest)
        verb = "shows" if first == 1 else "show"
        title += f". Towards it {first} of {with_noun(total, 'light point')} {verb} {word}{also}"
    elif total:
        title += f". Towards it none of {with_noun(total, 'light point')} shows"
    drawn = with_noun(len(rays.near), "light point")
    near = f"{IN_PLANE:g}° or {stack.lamp.units.alone.plain(NEAR_AXIS)}"
    if not total:
        under = "There is no light."
    elif not len(rays.near):
        under = f"No light point is within {near} of the cut."
    elif rays.off > IN_PLANE:
        off = degrees(rays.off, signed=False)
        under = f"{drawn} drawn, up to {off} off the cut: none nearer shows as openly."
    else:
        under = f"{drawn} within {near} of the cut drawn."
    if rays.wedges:
        under += " Of each gap the widest band is shown."
    if rays.more:
        under += f" {with_noun(rays.more, 'further gap')} not drawn."
    under += " Rays are those of the lamp alone, seen from far away."
    if rays.showing[Kind.GLAZED]:
        under += " Glazed ones are not drawn: clear acrylic bends them, mostly out of the cut."
    return title, f"Right is towards the bearing. {under}"


def _way(bearing: float) -> str:
    """Name the nearest of eight ways round the lamp."""
    ways = ("front", "front right", "right", "back right", "back", "back left", "left", "front left")
    return ways[round(bearing / 45.0) % 8]


def _eye_words(sightlines: Sightlines) -> list[str]:
    return [f"{seen.eye.name} {degrees(seen.elevation)}" for seen in sightlines.eyes]


def _placed(
    sheet: Sheet, stack: Stack, faces: Sequence[CutFace], eyes: Sequence[str], top: float, below: float
) -> View:
    """Lay the frame out and fit the lamp into it, towards the left so that rays have room."""
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
    scale = min(0.58 * wide / (right - left), 0.86 * (tall - foot) / (high - low))
    spare = tall - foot - (high - low) * scale
    zero = (frame[0] + 0.07 * wide - left * scale, frame[1] + foot + 0.5 * spare - low * scale)
    return View(frame, scale, zero)


def _lamp(
    sheet: Sheet, view: View, faces: Sequence[CutFace], rays: SectionRays, span: tuple[float, float] | None
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
        draw_part(sheet, face, view.onto, rays.bearing)
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


def _scale_bar(sheet: Sheet, view: View, units: Units) -> None:
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


Ends = dict[tuple[int, str], tuple[float, float]]
"""Where each bounding ray leaves the frame [px]; one that ends on the surface is left out."""


def _draw_rays(sheet: Sheet, view: View, rays: SectionRays, span: tuple[float, float] | None) -> Ends:
    ends: Ends = {}
    framed = box(*view.frame)
    for index in reversed(range(len(rays.wedges))):
        wedge = rays.wedges[index]
        colour = KIND_COLOURS[wedge.kind]
        start = view.at(*wedge.start)
        free = framed.difference(_behind(view, wedge, span))
        fan = Polygon([start, *(_far(view, start, angle) for angle in np.linspace(wedge.low, wedge.high, 5))])
        for piece in _pieces(fan.intersection(free)):
            fill_area(sheet, [np.asarray(piece.exterior.coords)[:-1]], colour, opacity=0.2, over=4.0)
        for name, angle, bound in (("low", wedge.low, wedge.low_at), ("high", wedge.high, wedge.high_at)):
            ray = LineString([start, _far(view, start, angle)]).intersection(free)
            first = min(_lines(ray), key=lambda one: one.distance(_point(start)))
            draw_line(sheet, [np.asarray(first.coords)], colour=colour, width=1.5, over=5.0)
            end = first.coords[-1]
            if framed.exterior.distance(_point(end)) < 0.5:
                ends[index, name] = (float(end[0]), float(end[1]))
            if bound is not None:
                disc(sheet, view.at(*bound), 0.2 * sheet.em, INK, over=7.0)
    for across, height in rays.near.tolist():
        disc(sheet, view.at(across, height), 0.28 * sheet.em, LIGHT, edge=INK, over=7.5)
    return ends


def _far(view: View, start: tuple[float, float], elevation: float) -> tuple[float, float]:
    left, low, right, high = view.frame
    reach, radians = 4.0 * (right - left + high - low), np.radians(elevation)
    return start[0] + reach * float(np.cos(radians)), start[1] + reach * float(np.sin(radians))


def _behind(view: View, wedge: Wedge, span: tuple[float, float] | None) -> BaseGeometry:
    """Outline what the surface hides from a light point: below it, within the lines over its two ends."""
    if span is None or wedge.start[1] <= 0.0:
        return Polygon()
    start = np.array(wedge.start)
    ends = np.clip(np.array([[span[0], 0.0], [span[1], 0.0]]), -1e5, 1e5)
    far = start + 1e4 * (ends - start)
    return Polygon(view.onto(np.array([ends[0], ends[1], far[1], far[0]])))


def _point(place: tuple[float, ...]) -> BaseGeometry:
    from shapely.geometry import Point

    return Point(place)


def _pieces(shape: BaseGeometry) -> list[Polygon]:
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, Polygon) and not part.is_empty]


def _lines(shape: BaseGeometry) -> list[LineString]:
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, LineString) and not part.is_empty]


def _ray_labels(view: View, rays: SectionRays, ends: Ends) -> list[EdgeLabel]:
    """One label for each elevation of each light point; neighbouring bands share theirs."""
    shared: dict[tuple[tuple[float, float], float], list[tuple[int, str]]] = {}
    for index, wedge in enumerate(rays.wedges):
        for name, elevation in (("low", wedge.low), ("high", wedge.high)):
            if (index, name) in ends:
                shared.setdefault((wedge.start, round(elevation, 6)), []).append((index, name))
    labels = []
    for (_, elevation), which in shared.items():
        at = ends[which[0]]
        letters = " ".join(dict.fromkeys(letter(index) for index, _ in which))
        colour = KIND_COLOURS[rays.wedges[which[0][0]].kind]
        words = f"{letters} {degrees(elevation)}"
        labels.append(EdgeLabel(words, colour, at, _side(view, at), None, 100 + which[0][0], tuple(which)))
    return labels


def _side(view: View, at: tuple[float, float]) -> str:
    _, low, right, high = view.frame
    return min((abs(at[0] - right), "right"), (abs(at[1] - high), "top"), (abs(at[1] - low), "bottom"))[1]


def _eye_labels(sightlines: Sightlines, stack: Stack, view: View) -> list[EdgeLabel]:
    """Arrows from the named eyes: along the line from the lamp's middle, where that leaves the frame."""
    middle = view.at(0.0, stack.height / 2.0)
    framed = box(*view.frame)
    labels = []
    for rank, (seen, words) in enumerate(zip(sightlines.eyes, _eye_words(sightlines), strict=True)):
        radians = np.radians(seen.elevation)
        out = (float(np.cos(radians)), float(np.sin(radians)))
        ray = LineString([middle, _far(view, middle, seen.elevation)]).intersection(framed)
        end = (float(ray.coords[-1][0]), float(ray.coords[-1][1]))
        labels.append(EdgeLabel(words, INK, end, _side(view, end), out, rank))
    return labels
