"""The section drawing: the lamp cut upright at a bearing, with the rays that bound what shows."""

import numpy as np
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from stackview.drawings.chart_style import (
    INK,
    KIND_COLOURS,
    Sheet,
    blank,
    disc,
    draw_line,
    fill_area,
    head,
    pixels,
    with_noun,
)
from stackview.drawings.section_eye_drawing import sheet_to_eye
from stackview.drawings.section_frame import (
    View,
    draw_lamp,
    draw_scale_bar,
    far,
    frame_side,
    lines_of,
    point_at,
    view_of_lamp,
    way_round,
)
from stackview.drawings.section_margins import (
    LIGHT,
    ROW,
    SECTION_MARKS,
    EdgeLabel,
    draw_edge_labels,
    draw_key,
    draw_legend,
    key_lines,
    key_rows,
    legend_entries,
    letter,
)
from stackview.drawings.section_rays import (
    IN_PLANE,
    NEAR_AXIS,
    SectionRays,
    Wedge,
    section_rays,
    surface_span,
    telling_bearing,
)
from stackview.in_figures import bearing_words, degrees
from stackview.sight.bands import Kind
from stackview.sight.summary import Sightlines
from stackview.stack.assembly import Stack
from stackview.stack.section import section
from stackview.stills.picture import Picture, picture_of
from stackview.stills.views import check_bearing
from stackview.study import Study, of_study


@of_study
def section_drawing(
    study: Study,
    bearing: float | None = None,
    size: tuple[int, int] = (1600, 1200),
    eye: str | None = None,
) -> Picture:
    """Draw the section at the computed bearing nearest to ``bearing`` [°]: (h, w, 3).

    With rays to the named eye ``eye``, by default the one that sees most, by default at its worst
    bearing. Where no eye is named or there is no light, with the rays that bound each gap, at the
    bearing from which most bare points show (see :func:`telling_bearing`).
    The picture has exactly ``size`` (width, height) [px].

    Raises
    ------
    ValueError
        When ``size`` is too small to hold legible text.
    OutputError
        When one of the two is no bearing or no size.
    StackviewError
        When no eye has that name.
    """
    if bearing is not None:
        check_bearing(bearing)
    return picture_of(pixels(section_sheet(study.sightlines, study.stack, bearing, size, eye)))


def section_sheet(
    sightlines: Sightlines,
    stack: Stack,
    bearing: float | None,
    size: tuple[int, int],
    eye: str | None = None,
) -> Sheet:
    """Draw the section on a sheet that can still be measured."""
    if eye is not None or (stack.lamp.eyes and len(sightlines.points)):
        return sheet_to_eye(sightlines, stack, sightlines.eye(eye), bearing, size)
    sheet = blank(size)
    most = 5 if sheet.height > 48 * sheet.em else 3
    rays = section_rays(sightlines, telling_bearing(sightlines) if bearing is None else bearing, most)
    # A cord is many times as long as the lamp, and would leave the gaps no room.
    faces = [face for face in section(stack, rays.bearing) if not face.part.is_cord]
    top = head(sheet, *_words(sightlines, stack, rays))
    kinds = sorted({wedge.kind for wedge in rays.wedges})
    marks = {words: colour for words, colour in SECTION_MARKS.items() if _used(rays, colour)}
    legend = legend_entries(sheet, [face.part for face in faces], kinds, marks)
    every = {(index, end) for index in range(len(rays.wedges)) for end in ("low", "high")}
    lines = len(key_lines(sheet, key_rows(rays, every)))
    below = (lines + (legend[-1][3] if legend else 0) + 2.2) * ROW * sheet.em
    view = view_of_lamp(sheet, stack, faces, _eye_words(sightlines), top, below)
    span = surface_span(stack.lamp.surface, rays.bearing)
    draw_lamp(sheet, view, faces, rays.bearing, span)
    draw_scale_bar(sheet, view, stack.lamp.units.alone)
    ends = _draw_rays(sheet, view, rays, span)
    wanted = [*_eye_labels(sightlines, stack, view), *_ray_labels(view, rays, ends)]
    labels = draw_edge_labels(sheet, view.frame, wanted)
    written = {end for label in labels for end in label.ends}
    draw_key(
        sheet, [wedge.kind for wedge in rays.wedges], key_lines(sheet, key_rows(rays, written), lines), below
    )
    draw_legend(sheet, legend, rays.bearing, below - (lines + 0.5) * ROW * sheet.em)
    return sheet


def _used(rays: SectionRays, mark: str) -> bool:
    """Whether a mark of this colour is drawn."""
    if mark == LIGHT:
        return bool(len(rays.near))
    return any(bound is not None for wedge in rays.wedges for bound in (wedge.low_at, wedge.high_at))


def _words(sightlines: Sightlines, stack: Stack, rays: SectionRays) -> tuple[str, str]:
    """Title and the line under it."""
    total = len(sightlines.points)
    showing = [(number, kind.word) for kind, number in rays.showing.items() if number]
    where = f"{bearing_words(rays.bearing)} ({way_round(rays.bearing)})"
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


def _eye_words(sightlines: Sightlines) -> list[str]:
    return [f"{seen.eye.name} {degrees(seen.elevation)}" for seen in sightlines.eyes]


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
        fan = Polygon([start, *(far(view, start, angle) for angle in np.linspace(wedge.low, wedge.high, 5))])
        for piece in _pieces(fan.intersection(free)):
            fill_area(sheet, [np.asarray(piece.exterior.coords)[:-1]], colour, opacity=0.2, over=4.0)
        for name, angle, bound in (("low", wedge.low, wedge.low_at), ("high", wedge.high, wedge.high_at)):
            ray = LineString([start, far(view, start, angle)]).intersection(free)
            first = min(lines_of(ray), key=lambda one: one.distance(point_at(start)))
            draw_line(sheet, [np.asarray(first.coords)], colour=colour, width=1.5, over=5.0)
            end = first.coords[-1]
            if framed.exterior.distance(point_at(end)) < 0.5:
                ends[index, name] = (float(end[0]), float(end[1]))
            if bound is not None:
                disc(sheet, view.at(*bound), 0.2 * sheet.em, INK, over=7.0)
    for across, height in rays.near.tolist():
        disc(sheet, view.at(across, height), 0.28 * sheet.em, LIGHT, edge=INK, over=7.5)
    return ends


def _behind(view: View, wedge: Wedge, span: tuple[float, float] | None) -> BaseGeometry:
    """Outline what the surface hides from a light point: below it, within the lines over its two ends."""
    if span is None or wedge.start[1] <= 0.0:
        return Polygon()
    start = np.array(wedge.start)
    ends = np.clip(np.array([[span[0], 0.0], [span[1], 0.0]]), -1e5, 1e5)
    far = start + 1e4 * (ends - start)
    return Polygon(view.onto(np.array([ends[0], ends[1], far[1], far[0]])))


def _pieces(shape: BaseGeometry) -> list[Polygon]:
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, Polygon) and not part.is_empty]


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
        labels.append(
            EdgeLabel(words, colour, at, frame_side(view, at), None, 100 + which[0][0], tuple(which))
        )
    return labels


def _eye_labels(sightlines: Sightlines, stack: Stack, view: View) -> list[EdgeLabel]:
    """Arrows from the named eyes: along the line from the lamp's middle, where that leaves the frame."""
    middle = view.at(0.0, stack.height / 2.0)
    framed = box(*view.frame)
    labels = []
    for rank, (seen, words) in enumerate(zip(sightlines.eyes, _eye_words(sightlines), strict=True)):
        radians = np.radians(seen.elevation)
        out = (float(np.cos(radians)), float(np.sin(radians)))
        ray = LineString([middle, far(view, middle, seen.elevation)]).intersection(framed)
        end = (float(ray.coords[-1][0]), float(ray.coords[-1][1]))
        labels.append(EdgeLabel(words, INK, end, frame_side(view, end), out, rank))
    return labels
