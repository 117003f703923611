"""What stands round the sightline map: eyes and surface beside it, the profile, the colour scales."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.drawings.chart_style import (
    FAINT,
    INK,
    KIND_COLOURS,
    PAPER,
    QUIET,
    Sheet,
    box_loop,
    disc,
    draw_line,
    fill_area,
    shortened,
    text_width,
    write,
)
from stackview.drawings.label_spread import spread
from stackview.drawings.map_counts import MapCounts, column_bearings, surface_edge
from stackview.in_figures import degrees
from stackview.sight.bands import Kind
from stackview.sight.eyes import Seen
from stackview.sight.summary import FAR_PARALLAX, Sightlines
from stackview.stack.assembly import Stack

HIDDEN_COLOUR = "#eeece7"
# Each ramp falls steadily in lightness, so that it also reads in grey and to the colour-blind;
# the warm one is strong, the two for acrylic are muted.
RAMPS = {
    Kind.BARE: ("#fbd97f", "#f2a23c", "#da611f", "#a02a1c", "#5a0e1c"),
    Kind.GLAZED: ("#cbe3f2", "#8fbfdd", "#4a8fbd"),
    Kind.VEILED: ("#d5cfe0", "#aca2bf", "#7c7096"),
}


@dataclass(frozen=True, slots=True)
class MapPlan:
    """Where things stand on the sheet [px]: chart, profile (no width where left out), label column."""

    left: int
    low: int
    wide: int
    high: int
    profile_left: float
    profile_wide: float
    labels_left: float

    @property
    def right(self) -> float:
        """Right edge of what shares the chart's elevations."""
        return self.profile_left + self.profile_wide if self.profile_wide else float(self.left + self.wide)

    def at(self, elevation: float) -> float:
        """Height on the sheet of an elevation [°]."""
        return self.low + (elevation + 90.0) / 180.0 * self.high

    def over(self, bearing: float) -> float:
        """Place across the sheet of a bearing [°]."""
        return self.left + bearing / 360.0 * self.wide


@dataclass(frozen=True, slots=True)
class Mark:
    """One thing at an elevation: its two lines of words, and the eye's worst bearing if it is an eye."""

    elevation: float
    name: str
    note: str
    eye: bool
    worst: float | None


def margin_marks(sightlines: Sightlines, stack: Stack) -> list[Mark]:
    """Name what the chart marks: elevations of far eyes, and where the surface begins to hide the lamp."""
    marks = [
        Mark(
            seen.elevation,
            f"{seen.eye.name}  {degrees(seen.elevation)}",
            _at_worst(seen),
            True,
            _worst_bearing(seen),
        )
        for seen in sightlines.eyes
        if sightlines.is_far(seen.from_middle)
    ]
    around = column_bearings(720)
    edge = surface_edge(sightlines.standpoint, stack.height / 2.0, around)
    if edge is not None:
        low, high = degrees(float(edge.min())), degrees(float(edge.max()))
        span = f"below {high}" if low == high else f"below {high} to {low}"
        marks.append(Mark(float(edge[-1]), span, "surface hides the lamp's middle", False, None))
    return marks


_NAMED = 4
"""Near eyes that are named one by one; of more their number is told."""


def near_words(sightlines: Sightlines) -> str:
    """Which eyes are too near for a place on the chart, why, and where to look instead; empty where none is."""
    near = [seen for seen in sightlines.eyes if not sightlines.is_far(seen.from_middle)]
    if not near:
        return ""
    names = ", ".join(f'"{seen.eye.name}"' for seen in near) if len(near) <= _NAMED else f"{len(near)} eyes"
    most = max(sightlines.parallax(seen.from_middle) for seen in near)
    aside = f"up to {most:.3g}°" if most < 90.0 else "far"
    return (
        f"Not marked, as too near: {names}. What is seen from there stands in the room picture. Light points lie {aside} "
        f"aside of the lamp's middle from there; eyes are marked where that is at most {FAR_PARALLAX:g}°."
    )


def _at_worst(seen: Seen) -> str:
    counts = {kind: int(seen.counts(kind)[seen.worst]) for kind in Kind}
    words = [f"{count} {kind.word}" for kind, count in counts.items() if count]
    return "at worst (○) " + ", ".join(words) if words else "sees no light point"


def _worst_bearing(seen: Seen) -> float | None:
    return float(seen.bearings[seen.worst]) if seen.counts(*Kind)[seen.worst] else None


def ramp(kind: Kind, most: int) -> NDArray[np.uint8]:
    """Colours (most + 1, 3) for 0 to ``most`` points of one class; 0 is the colour of hidden."""
    anchors = np.array([rgb(colour) for colour in RAMPS[kind]], dtype=np.float64)
    at = np.linspace(0.0, 1.0, most) if most > 1 else np.full(most, 0.5)
    steps = np.linspace(0.0, 1.0, len(anchors))
    colours = np.stack([np.interp(at, steps, anchors[:, channel]) for channel in range(3)], axis=1)
    return np.vstack([rgb(HIDDEN_COLOUR), np.rint(colours)]).astype(np.uint8)


def rgb(colour: str) -> tuple[int, int, int]:
    """Read ``#rrggbb`` as three whole numbers."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


_LEADER = 1.9
"""Room for the leaders beside the label column [em]."""


def marks_width(sheet: Sheet, marks: list[Mark]) -> float:
    """Width of the label column that the marks ask for, leaders included [px]."""
    widths = [max(text_width(sheet, mark.name, 0.95), text_width(sheet, mark.note, 0.8)) for mark in marks]
    return max(widths) + (_LEADER + 0.2) * sheet.em if widths else 0.0


def draw_marks(sheet: Sheet, plan: MapPlan, marks: list[Mark]) -> None:
    """Draw each mark's line across the chart and its label beside it, fanned out where they crowd."""
    em = sheet.em
    tall = 2.75 * em
    fits = max(int((plan.high + 2 * em) // tall), 1)
    kept = marks[:fits]
    wanted = [plan.at(mark.elevation) for mark in kept]
    middles = spread(wanted, [tall] * len(kept), plan.low - em, plan.low + plan.high + em)
    assert middles is not None
    at = plan.labels_left + _LEADER * em
    room = sheet.width - 0.9 * em - at
    if len(marks) > fits:
        words = shortened(sheet, f"{len(marks) - fits} more not marked", room, 0.8)
        write(sheet, (at, plan.low - 3.6 * em), words, size=0.8, colour=QUIET, upright="baseline")
    for mark, y, middle in zip(kept, wanted, middles, strict=True):
        if mark.eye:
            draw_line(
                sheet, [[(plan.left, y), (plan.right, y)]], colour=PAPER, width=3.2, over=6.5, opacity=0.75
            )
            draw_line(sheet, [[(plan.left, y), (plan.right, y)]], width=1.4, over=7.0)
        leader = [
            (plan.right, y),
            (plan.right + 0.4 * em, y),
            (at - 0.7 * em, middle),
            (at - 0.3 * em, middle),
        ]
        draw_line(sheet, [leader], colour=QUIET)
        if mark.worst is not None:
            disc(sheet, (plan.over(mark.worst), y), 0.36 * em, PAPER, edge=INK)
        write(
            sheet,
            (at, middle + 0.25 * em),
            shortened(sheet, mark.name, room, 0.95),
            size=0.95,
            upright="baseline",
        )
        note = shortened(sheet, mark.note, room, 0.8)
        write(sheet, (at, middle - 0.9 * em), note, size=0.8, colour=QUIET, upright="baseline")


def draw_profile(sheet: Sheet, plan: MapPlan, counts: dict[Kind, MapCounts]) -> None:
    """Draw beside the chart how many points of each class show at each elevation, on average all round."""
    em = sheet.em
    left, wide = plan.profile_left, plan.profile_wide
    most = max(float(counts[kind].profile.max(initial=0.0)) for kind in Kind)
    limit, ticks = round_limit(most)
    box = (left, float(plan.low), left + wide, float(plan.low + plan.high))
    edges = np.repeat(plan.low + plan.high - np.arange(plan.high + 1.0), 2)[1:-1]
    for kind in (Kind.VEILED, Kind.GLAZED, Kind.BARE):
        value = np.repeat(counts[kind].profile, 2)
        curve = np.stack([left + value / limit * wide, edges], axis=1)
        for part in np.split(curve, np.flatnonzero(np.diff(value > 0)) + 1):
            if part[0, 0] > left:
                closed = np.vstack([[left, part[0, 1]], part, [left, part[-1, 1]]])
                fill_area(sheet, [closed], KIND_COLOURS[kind], opacity=0.16, over=2.0)
                draw_line(sheet, [closed], colour=KIND_COLOURS[kind], width=1.5, over=3.0)
    fill_area(sheet, [box_loop(box)], None, edge=FAINT, over=2.5)
    for tick in ticks:
        x = left + tick / limit * wide
        draw_line(sheet, [[(x, plan.low - 0.4 * em), (x, plan.low)]], colour=QUIET)
        spot = (x, plan.low - 1.35 * em)
        write(sheet, spot, f"{tick:g}", size=0.85, colour=QUIET, across="center", upright="baseline")
    for row, words in enumerate(("light points,", "mean all round")):
        spot = (left + wide / 2, plan.low - (2.5 + 1.1 * row) * em)
        write(sheet, spot, words, size=0.85, colour=QUIET, across="center", upright="baseline")


def round_limit(most: float) -> tuple[float, tuple[float, ...]]:
    """End and ticks of a scale that holds 0 to ``most`` with at most four round steps (1, 2 or 5 times ten).

    >>> round_limit(17.2)
    (20.0, (0.0, 5.0, 10.0, 15.0, 20.0))
    """
    if most <= 0.0:
        return 1.0, (0.0, 1.0)
    power = 10.0 ** np.floor(np.log10(most / 4.0))
    step = next(
        factor * power for factor in (1.0, 2.0, 5.0, 10.0) if 4.0 * factor * power >= most * (1 - 1e-12)
    )
    count = int(np.ceil(most / step - 1e-9))
    return float(count * step), tuple(float(step * index) for index in range(count + 1))


def draw_scales(sheet: Sheet, plan: MapPlan, counts: dict[Kind, MapCounts]) -> None:
    """Draw the colour scales in whole numbers: hidden, bare, and what shows through acrylic only."""
    em = sheet.em
    room = sheet.width - plan.left - 1.2 * em
    each = min(room / 3.45, 24.0 * em)
    heads = {
        Kind.BARE: "bare, straight through air",
        Kind.GLAZED: "glazed only, through clear acrylic",
        Kind.VEILED: "veiled only, through sanded or opal",
    }
    x, y = float(plan.left), plan.low - 7.3 * em
    swatch = (x, y, x + 1.6 * em, y + 1.0 * em)
    fill_area(sheet, [box_loop(swatch)], HIDDEN_COLOUR, edge=FAINT)
    write(sheet, (x, y + 1.5 * em), "hidden", size=0.85, upright="baseline")
    write(
        sheet,
        (x + 0.8 * em, y - 1.15 * em),
        "0",
        size=0.85,
        colour=QUIET,
        across="center",
        upright="baseline",
    )
    x += 0.45 * each
    for kind, words in heads.items():
        wide = each - 1.5 * em
        short = words if text_width(sheet, words, 0.85) <= wide else words.split(",")[0]
        write(sheet, (x, y + 1.5 * em), shortened(sheet, short, wide, 0.85), size=0.85, upright="baseline")
        if counts[kind].most:
            _scale(sheet, (x, y, x + wide, y + em), kind, counts[kind].most)
        else:
            write(sheet, (x, y + 0.1 * em), "from no direction", size=0.85, colour=QUIET, upright="baseline")
        x += each


def _scale(sheet: Sheet, box: tuple[float, float, float, float], kind: Kind, most: int) -> None:
    """One scale: a field for each whole number from 1, numbered as room allows."""
    left, low, right, high = box
    field = min((right - left) / most, 2.4 * sheet.em)
    for index, colour in enumerate(ramp(kind, most)[1:].tolist()):
        fill = "#{:02x}{:02x}{:02x}".format(*colour)
        fill_area(sheet, [box_loop((left + index * field, low, left + (index + 1) * field, high))], fill)
    fill_area(sheet, [box_loop((left, low, left + most * field, high))], None, edge=QUIET)
    apart = max(int(np.ceil((text_width(sheet, str(most), 0.85) + 0.8 * sheet.em) / field)), 1)
    numbers = [1, *(n for n in _round_numbers(apart, most) if apart < n <= most - apart), most]
    for number in sorted(set(numbers)) if most >= 1 + apart else [most]:
        spot = (left + (number - 0.5) * field, low - 1.15 * sheet.em)
        write(sheet, spot, str(number), size=0.85, colour=QUIET, across="center", upright="baseline")


def _round_numbers(apart: int, most: int) -> list[int]:
    step = next(
        n for power in (1, 10, 100, 1000, 10**4, 10**6) for n in (power, 2 * power, 5 * power) if n >= apart
    )
    return list(range(step, most + 1, step))
