"""The section drawn to one eye: every light point that it sees, and the straight line from each to it."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, box

from stackview.drawings.chart_style import (
    INK,
    KIND_COLOURS,
    QUIET,
    Sheet,
    blank,
    disc,
    draw_line,
    head,
    shortened,
    with_noun,
)
from stackview.drawings.section_eye_rays import EyeRay, EyeRays, NumberedRay, numbered_rays, rays_to_eye
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
    EdgeLabel,
    RayMark,
    draw_edge_labels,
    draw_key,
    draw_legend,
    key_lines,
    legend_entries,
)
from stackview.drawings.section_rays import IN_PLANE, NEAR_AXIS, surface_span
from stackview.in_figures import bearing_words, degrees
from stackview.sight.bands import Kind
from stackview.sight.eyes import Seen
from stackview.sight.summary import Sightlines
from stackview.stack.assembly import Stack
from stackview.stack.section import CutFace, section

PALE_LIGHT, HIDDEN_LIGHT = "#fbe5b4", "#ffffff"
"""Light points aside of the cut, and those in it that the eye does not see."""
_PALE = 0.3
_SHARE = 0.62
"""The most of the frame's width that the lamp takes."""


def sheet_to_eye(
    sightlines: Sightlines, stack: Stack, seen: Seen, bearing: float | None, size: tuple[int, int]
) -> Sheet:
    """Draw the section to an eye on a sheet that can still be measured."""
    sheet = blank(size)
    rays = rays_to_eye(sightlines, seen, bearing)
    named = numbered_rays(rays, 6 if sheet.height > 48 * sheet.em else 3)
    # A cord is many times as long as the lamp, and would leave the gaps no room.
    faces = [face for face in section(stack, rays.bearing) if not face.part.is_cord]
    top = head(sheet, *_words(sheet, sightlines, stack, rays, len(named)))
    legend = legend_entries(sheet, [face.part for face in faces], (), _marks(rays, named))
    lines = key_lines(sheet, _key_rows(stack, named))
    below = (len(lines) + (legend[-1][3] if legend else 0) + 2.2) * ROW * sheet.em
    words = f"{seen.eye.name} {degrees(seen.elevation)}"
    view = _short_of_eye(view_of_lamp(sheet, stack, faces, [words], top, below, _SHARE), faces, rays.place)
    draw_lamp(sheet, view, faces, rays.bearing, surface_span(stack.lamp.surface, rays.bearing))
    draw_scale_bar(sheet, view, stack.lamp.units.alone)
    ends = _draw_rays(sheet, view, rays, named)
    numbers = [
        EdgeLabel(str(k), KIND_COLOURS[one.ray.kind], ends[one.ray.number], side, None, k)
        for k, one in enumerate(named, start=1)
        for side in (frame_side(view, ends[one.ray.number]),)
    ]
    draw_edge_labels(sheet, view.frame, [_eye_label(view, stack, rays, words), *numbers])
    draw_key(sheet, [one.ray.kind for one in named], lines, below)
    draw_legend(sheet, legend, rays.bearing, below - (len(lines) + 0.5) * ROW * sheet.em)
    return sheet


def _words(sheet: Sheet, sightlines: Sightlines, stack: Stack, rays: EyeRays, named: int) -> tuple[str, str]:
    """Title and the line under it."""
    eye, units, total = rays.seen.eye, stack.lamp.units.alone, len(sightlines.points)
    counts = [(sum(ray.kind == kind for ray in rays.rays), kind.word) for kind in Kind]
    showing = ", ".join(f"{number} {word}" for number, word in counts if number) or "none"
    who = shortened(sheet, eye.name, 16.0 * sheet.em)
    worst = ", its worst" * (rays.worst and bool(rays.rays))
    where = f"{bearing_words(rays.bearing)} ({way_round(rays.bearing)}{worst})"
    title = f'{stack.lamp.name}: section to the eye "{who}", bearing {where}'
    title += f". Of {with_noun(total, 'light point')} it sees {showing}" if total else ". There is no light"
    said = [f"Right is towards the eye, {units.plain(eye.distance)} from the axis."]
    inside = sum(ray.in_cut for ray in rays.rays)
    near = f"{IN_PLANE:g}° or {units.plain(NEAR_AXIS)}"
    if len(rays.rays) > inside:
        most = units.plain(max(ray.aside for ray in rays.rays))
        paler = with_noun(len(rays.rays) - inside, "ray")
        said.append(
            f"{paler} drawn paler, square onto the cut: up to {most} aside of it, as are the gaps passed."
        )
        if inside:
            said.append(f"Not paler: within {near} of it.")
    elif rays.rays:
        said.append(f"All rays are from within {near} of the cut.")
    if len(rays.rays) > named:
        said.append("Not every ray has a number.")
    if any(ray.kind == Kind.GLAZED for ray in rays.rays):
        whole = all(ray.bends for ray in rays.rays if ray.kind == Kind.GLAZED)
        said.append("Glazed ones as they bend." if whole else "Glazed ones as they bend, or their last leg.")
    if rays.corners:
        said.append(f"{rays.corners} more, seen by a corner alone, not drawn.")
    if rays.lost:
        said.append(f"{rays.lost} glazed not drawn: their last leg is not known.")
    return title, " ".join(said)


def _marks(rays: EyeRays, named: Sequence[NumberedRay]) -> dict[str, str | RayMark]:
    """The marks that are drawn, by their words."""
    marks: dict[str, tuple[str | RayMark, bool]] = {
        f"{kind.word} ray": (RayMark(kind), any(ray.kind == kind for ray in rays.rays)) for kind in Kind
    }
    marks |= {
        "light point it sees": (LIGHT, any(ray.in_cut for ray in rays.rays)),
        "one aside of the cut": (PALE_LIGHT, not all(ray.in_cut for ray in rays.rays)),
        "one hidden from it": (HIDDEN_LIGHT, len(rays.hidden) > 0),
        "edge passed": (INK, any(one.ray.past_at is not None for one in named)),
    }
    return {words: mark for words, (mark, used) in marks.items() if used}


def _key_rows(stack: Stack, named: Sequence[NumberedRay]) -> list[tuple[str, str]]:
    """Say what each numbered ray is: (number, words)."""
    rows = []
    for number, one in enumerate(named, start=1):
        ray = one.ray
        words = f"light point {ray.number}"
        if ray.kind != Kind.BARE:
            words += f", {ray.kind.word}"
        if ray.kind == Kind.GLAZED:
            words += ", bends in the acrylic" + ("" if ray.bends else ": last leg")
        else:
            words += f", past {ray.past}" if ray.past else ", no edge beside its line"
        if not ray.in_cut:
            words += f", {stack.lamp.units.alone.plain(ray.aside)} aside of the cut"
        if one.alike:
            words += f"; {one.alike} more past that edge" if ray.past else f"; {one.alike} more like it"
        rows.append((f"{number}:", words))
    return rows


def _short_of_eye(view: View, faces: Sequence[CutFace], eye: tuple[float, float]) -> View:
    """Let the frame end at an eye that stands within it, so that rays end at the frame."""
    left, low, right, high = view.frame
    x, y = view.at(*eye)
    if not (left < x < right and low < y < high):
        return view
    boxes = np.array([face.box for face in faces])
    if not len(boxes) or eye[0] > boxes[:, 2].max():
        return replace(view, frame=(left, low, x, high))
    return replace(
        view, frame=(left, low, right, y) if eye[1] > boxes[:, 3].max() else (left, y, right, high)
    )


def _draw_rays(
    sheet: Sheet, view: View, rays: EyeRays, named: Sequence[NumberedRay]
) -> dict[int, tuple[float, float]]:
    """Draw points and rays, those aside of the cut first; where each ray leaves the frame [px] by its point."""
    framed = box(*view.frame)
    ends: dict[int, tuple[float, float]] = {}
    numbers = {one.ray.number for one in named}
    for across, height in rays.hidden.tolist():
        disc(sheet, view.at(across, height), 0.24 * sheet.em, HIDDEN_LIGHT, edge=QUIET, over=7.0)
    for ray in sorted(rays.rays, key=lambda one: (one.number in numbers, one.in_cut)):
        start, eye = view.at(*ray.start), view.at(*rays.place)
        rise = float(np.degrees(np.arctan2(eye[1] - start[1], eye[0] - start[0])))
        inside = LineString([start, far(view, start, rise)]).intersection(framed)
        first = min(lines_of(inside), key=lambda one: one.distance(point_at(start)))
        ends[ray.number] = (float(first.coords[-1][0]), float(first.coords[-1][1]))
        _draw_ray(sheet, view, ray, np.asarray(first.coords), ray.number in numbers)
    return ends


def _draw_ray(sheet: Sheet, view: View, ray: EyeRay, line: NDArray[np.float64], named: bool) -> None:
    over = 5.0 + ray.in_cut + 0.5 * named
    opacity, width = (1.0, 1.6) if ray.in_cut else (_PALE + 0.25 * named, 1.2)
    ways = [line, np.array([view.at(*place) for place in ray.bends])] if ray.bends else [line]
    draw_line(sheet, ways, colour=KIND_COLOURS[ray.kind], width=width, opacity=opacity, over=over)
    fill, edge = (LIGHT, INK) if ray.in_cut else (PALE_LIGHT, QUIET)
    disc(sheet, view.at(*ray.point), 0.28 * sheet.em, fill, edge=edge, over=7.5 + 0.2 * ray.in_cut)
    if named and ray.past_at is not None:
        disc(sheet, view.at(*ray.past_at), 0.2 * sheet.em, INK, over=7.4)


def _eye_label(view: View, stack: Stack, rays: EyeRays, words: str) -> EdgeLabel:
    """The arrow from the eye: along the line from the lamp's middle, where that leaves the frame."""
    middle = view.at(0.0, stack.height / 2.0)
    eye = view.at(*rays.place)
    rise = float(np.arctan2(eye[1] - middle[1], eye[0] - middle[0]))
    ray = LineString([middle, far(view, middle, float(np.degrees(rise)))]).intersection(box(*view.frame))
    end = (float(ray.coords[-1][0]), float(ray.coords[-1][1]))
    out = (float(np.cos(rise)), float(np.sin(rise)))
    return EdgeLabel(words, INK, end, frame_side(view, end), out, 0)
