"""The sightline map: every direction on a flat chart, coloured by how many light points show there."""

import numpy as np
from numpy.typing import NDArray

from stackview.drawings.chart_style import (
    INK,
    QUIET,
    Sheet,
    blank,
    box_loop,
    broken_lines,
    draw_line,
    fill_area,
    head,
    image,
    pixels,
    with_noun,
    write,
)
from stackview.drawings.map_counts import (
    MapCounts,
    column_bearings,
    map_counts,
    surface_edge,
    surface_zone,
)
from stackview.drawings.map_margins import (
    MapPlan,
    draw_marks,
    draw_profile,
    draw_scales,
    margin_marks,
    marks_width,
    near_words,
    ramp,
    rgb,
)
from stackview.in_figures import degrees, percent
from stackview.sight.bands import Kind
from stackview.sight.beams import TOLERANCE
from stackview.sight.fan import LEAST_IMAGE
from stackview.sight.summary import Sightlines
from stackview.stack.assembly import Stack
from stackview.stills.picture import Picture, picture_of
from stackview.study import Study, of_study

_FOOT = 1.3
"""Height of a line of words below the scales [em]."""
WAYS = {0: "front", 90: "right", 180: "back", 270: "left", 360: "front"}
"""Bearings that have a name [°]."""


@of_study
def sightline_map(study: Study, size: tuple[int, int] = (1600, 1000)) -> Picture:
    """Draw the map of all directions: (h, w, 3) of exactly ``size`` (width, height) [px].

    Raises
    ------
    ValueError
        When ``size`` is too small to hold legible text.
    """
    return picture_of(pixels(map_sheet(study.sightlines, study.stack, size)))


def map_sheet(sightlines: Sightlines, stack: Stack, size: tuple[int, int]) -> Sheet:
    """Draw the map on a sheet that can still be measured."""
    sheet = blank(size)
    top = _head(sheet, sightlines, stack)
    marks = margin_marks(sightlines, stack)
    foot = broken_lines(sheet, near_words(sightlines), sheet.width - 2.4 * sheet.em, 0.9)
    plan = _planned(sheet, top, marks_width(sheet, marks), _FOOT * len(foot) * sheet.em)
    counts = {kind: map_counts(sightlines.bands, kind, plan.wide, plan.high) for kind in Kind}
    _chart(sheet, plan, counts, sightlines, stack)
    if plan.profile_wide:
        draw_profile(sheet, plan, counts)
    draw_marks(sheet, plan, marks)
    draw_scales(sheet, plan, counts)
    for row, words in enumerate(reversed(foot)):
        spot = (1.2 * sheet.em, (0.8 + _FOOT * row) * sheet.em)
        write(sheet, spot, words, size=0.9, colour=QUIET, upright="baseline")
    return sheet


def _head(sheet: Sheet, sightlines: Sightlines, stack: Stack) -> float:
    """Title and the line under it; returns where the space below them begins."""
    lit = with_noun(len(sightlines.points), "light point")
    every = percent(sightlines.share_shown, 1)
    shown = f"At least one point shows, bare, glazed or veiled, from {every} of all directions."
    if not len(sightlines.points):
        claim, under = "no light points", "Nothing is lit, so nothing shows."
    elif sightlines.share_bare > 0.0:
        claim = f"bare light points show from {percent(sightlines.share_bare, 1)} of all directions"
        under = f"{lit}, at most {int(sightlines.bare.most.max(initial=0))} bare at once. {shown}"
    else:
        claim, under = "no light point is bare from any direction", f"{lit}. {shown}"
    under += " The chart is for the lamp alone, seen from far away."
    if any(sightlines.is_far(seen.from_middle) for seen in sightlines.eyes):
        under += " Each marked eye's own count is judged from where it is, not from far away."
    if (sightlines.bands.kind == Kind.GLAZED).any():
        under += (
            f" Glazed points are traced through the acrylic, to {TOLERANCE:g}°; "
            f"images under {LEAST_IMAGE:g} square degree are left out."
        )
    return head(sheet, f"{stack.lamp.name}: {claim}", under)


def _planned(sheet: Sheet, top: float, labels: float, foot: float) -> MapPlan:
    em = sheet.em
    spare = sheet.width / em
    labels = min(labels, (0.24 * spare if spare > 80 else 14.0) * em)
    profile = (11.0 if spare > 95 else 8.0 if spare > 78 else 0.0) * em
    gap = 2.6 * em if profile else 0.0
    left, low = round(5.0 * em), round(9.9 * em + foot)
    wide = round(sheet.width - left - labels - profile - gap - 1.8 * em)
    high = round(top - 1.4 * em) - low
    return MapPlan(left, low, wide, high, left + wide + gap, profile, left + wide + gap + profile)


def _chart(
    sheet: Sheet, plan: MapPlan, counts: dict[Kind, MapCounts], sightlines: Sightlines, stack: Stack
) -> None:
    middle = stack.height / 2.0
    around = column_bearings(plan.wide)
    edge = surface_edge(sightlines.standpoint, middle, around)
    drawn = coloured(counts)
    _hatch(sheet, plan, drawn, surface_zone(sightlines.standpoint, middle, plan.wide, plan.high, edge))
    image(sheet, drawn, plan.left, plan.low)
    if edge is not None:
        heights = plan.low + (edge + 90.0) / 180.0 * plan.high
        curve = np.stack([plan.left + np.arange(plan.wide) + 0.5, heights], axis=1)
        draw_line(sheet, [curve], colour=QUIET, width=1.3, dashes=(0.5, 0.3))
    _axes(sheet, plan)


def coloured(counts: dict[Kind, MapCounts]) -> NDArray[np.uint8]:
    """Colour each pixel (h, w, 3) by the count of the most open class that shows there."""
    tables = [ramp(kind, counts[kind].most) for kind in Kind]
    starts = np.cumsum([0] + [len(table) for table in tables])
    index = np.zeros_like(counts[Kind.BARE].shown)
    for kind in reversed(Kind):
        shown = counts[kind].shown
        index = np.where(shown > 0, shown + starts[kind], index)
    return np.asarray(np.take(np.concatenate(tables), index, axis=0))


def _hatch(sheet: Sheet, plan: MapPlan, drawn: NDArray[np.uint8], zone: NDArray[np.bool_]) -> None:
    """Lay slanting lines over a zone (h, w) of the chart's pixels, which are changed in place."""
    period, thick = max(round(0.9 * sheet.em), 6), max(round(sheet.hair), 1)
    rows, columns = np.arange(plan.high)[:, None], np.arange(plan.wide)
    lined = zone & ((columns + rows) % period < thick)
    drawn[lined] = (0.55 * drawn[lined] + 0.45 * np.array(rgb(QUIET))).astype(np.uint8)


def _axes(sheet: Sheet, plan: MapPlan) -> None:
    fill_area(
        sheet,
        [box_loop((plan.left, plan.low, plan.left + plan.wide, plan.low + plan.high))],
        None,
        edge=QUIET,
        over=6.0,
    )
    _elevation_axis(sheet, plan)
    _bearing_axis(sheet, plan)


def _elevation_axis(sheet: Sheet, plan: MapPlan) -> None:
    em = sheet.em
    for elevation in range(-90, 91, 15 if plan.high > 24 * em else 30):
        y = plan.at(elevation)
        draw_line(sheet, [[(plan.left - 0.4 * em, y), (plan.left, y)]], colour=QUIET)
        if abs(elevation) < 90:
            opacity = 0.22 if elevation == 0 else 0.08
            draw_line(sheet, [[(plan.left, y), (plan.right, y)]], opacity=opacity, over=4.0)
        words = degrees(elevation, places=0)
        spot = (plan.left - 0.6 * em, y)
        write(sheet, spot, words, size=0.85, colour=QUIET, across="right", upright="center")
    spot, words = (1.2 * em, plan.at(0.0)), "elevation of the eye"
    write(sheet, spot, words, size=0.85, colour=QUIET, across="center", upright="center", turn=90.0)


def _bearing_axis(sheet: Sheet, plan: MapPlan) -> None:
    em, low = sheet.em, plan.low

    def put(bearing: float, below: float, words: str, colour: str = QUIET) -> None:
        spot = (plan.over(bearing), low - below * em)
        write(sheet, spot, words, size=0.85, colour=colour, across="center", upright="baseline")

    for bearing in range(0, 361, 45 if plan.wide > 34 * em else 90):
        x = plan.over(bearing)
        draw_line(sheet, [[(x, low - 0.4 * em), (x, low)]], colour=QUIET)
        if 0 < bearing < 360:
            draw_line(sheet, [[(x, low), (x, low + plan.high)]], opacity=0.08, over=4.0)
        put(bearing, 1.35, f"{bearing}°")
        if bearing in WAYS:
            put(bearing, 2.5, WAYS[bearing], INK)
    put(180.0, 3.75, "bearing, counter-clockwise seen from above")
