"""The words round a section drawing: layers on the left, rays and eyes along the frame, the key below."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from stackview.drawings.chart_style import (
    INK,
    KIND_COLOURS,
    QUIET,
    Extent,
    Sheet,
    box_loop,
    broken_lines,
    disc,
    draw_line,
    fill_area,
    shortened,
    text_width,
    write,
)
from stackview.drawings.label_spread import spread
from stackview.drawings.section_parts import draw_swatch, look_of
from stackview.drawings.section_rays import SectionRays
from stackview.in_figures import degrees
from stackview.sight.bands import Kind
from stackview.stack.placed import Placed

LIGHT = "#f5b21a"
"""Light points."""
_SMALL = 0.85
SECTION_MARKS = {"light point": LIGHT, "bounding edge": INK}
"""Marks of the legend and their colours."""
ROW = 1.3
"""Height of a row of small words [em]."""


@dataclass(frozen=True, slots=True)
class LayerName:
    """A part's name and where on the sheet its leader ends [px]."""

    words: str
    end: tuple[float, float]


@dataclass(frozen=True, slots=True)
class EdgeLabel:
    """What is written at the frame: words, colour, where their line meets the frame, and on which side.

    ``towards`` is the direction of an eye's arrow out of the frame, None for a ray; ``rank`` tells
    which gives way first where there is no room (the highest).
    """

    words: str
    colour: str
    at: tuple[float, float]
    side: str
    towards: tuple[float, float] | None
    rank: int
    ends: tuple[tuple[int, str], ...] = ()
    """Which wedges' bounding rays it stands for: (number, "low" or "high")."""


def names_width(sheet: Sheet, names: Sequence[str]) -> float:
    """Width of the column of layer names with its leaders [px]."""
    widest = max((text_width(sheet, name, _SMALL) for name in names), default=0.0)
    return min(widest, 0.2 * sheet.width) + 4.0 * sheet.em


def draw_names(sheet: Sheet, frame: Extent, names: Sequence[LayerName]) -> None:
    """Write the layers' names beside the frame, fanned out; tells how many found no room."""
    em = sheet.em
    left, low, _, high = frame
    row = ROW * 0.92 * em
    fits = int((high - low) // row)
    ordered = sorted(names, key=lambda name: name.end[1])
    kept = ordered
    if len(ordered) > fits:
        picked = np.unique(np.rint(np.linspace(0, len(ordered) - 1, fits)).astype(int))
        kept = [ordered[index] for index in picked.tolist()]
    middles = spread([name.end[1] for name in kept], [row] * len(kept), low, high)
    assert middles is not None
    for name, middle in zip(kept, middles, strict=True):
        words = shortened(sheet, name.words, left - 3.6 * em, _SMALL)
        spot = (left - 2.6 * em, middle)
        write(sheet, spot, words, size=_SMALL, across="right", upright="center")
        path = [
            (left - 2.3 * em, middle),
            (left - 1.9 * em, middle),
            (left - 0.3 * em, name.end[1]),
            name.end,
        ]
        draw_line(sheet, [path], colour=QUIET, width=0.8, over=6.0)
        disc(sheet, name.end, 0.16 * em, INK, over=6.2)
    if len(kept) < len(ordered):
        words = shortened(sheet, f"{len(ordered) - len(kept)} not named", left - 1.4 * em, _SMALL)
        spot = (left - 0.4 * em, low - 1.5 * em)
        write(sheet, spot, words, size=_SMALL, colour=QUIET, across="right", upright="center")


def edge_width(sheet: Sheet, labels: Sequence[EdgeLabel]) -> float:
    """Width of the column beside the frame's right edge [px]."""
    widest = max((text_width(sheet, label.words, _SMALL) for label in labels), default=0.0)
    return min(widest, 0.2 * sheet.width) + 4.0 * sheet.em


def draw_edge_labels(sheet: Sheet, frame: Extent, labels: Sequence[EdgeLabel]) -> tuple[EdgeLabel, ...]:
    """Write elevations of rays and eyes along the frame's edges; returns those that found room."""
    left, low, right, high = frame
    em = sheet.em
    room = sheet.width - right - 3.4 * em
    kept: list[EdgeLabel] = []
    for side in ("right", "top", "bottom"):
        here = sorted((label for label in labels if label.side == side), key=lambda label: label.rank)
        limits = (low, high) if side == "right" else (left, sheet.width - 1.2 * em)
        middles = None
        while here and middles is None:
            words = [shortened(sheet, label.words, room, _SMALL) for label in here]
            sizes = [
                ROW * 0.95 * em if side == "right" else text_width(sheet, each, _SMALL) + 1.2 * em
                for each in words
            ]
            wanted = [_begin(label, em)[1 if side == "right" else 0] for label in here]
            middles = spread(wanted, sizes, *limits)
            if middles is None:
                here.pop()
        for label, each, middle in zip(here, words if here else [], middles or [], strict=True):
            _edge_label(sheet, frame, label, each, middle)
        kept.extend(here)
    return tuple(kept)


def _edge_label(sheet: Sheet, frame: Extent, label: EdgeLabel, words: str, middle: float) -> None:
    em = sheet.em
    _, low, right, high = frame
    begin = _begin(label, em)
    if label.towards is not None:
        _arrow(sheet, label.at, label.towards)
    if label.side == "right":
        path = [begin, (right + 2.3 * em, middle), (right + 2.6 * em, middle)]
        write(sheet, (right + 2.8 * em, middle), words, size=_SMALL, colour=label.colour, upright="center")
    else:
        way, edge = (1.0, high) if label.side == "top" else (-1.0, low)
        path = [begin, (middle, edge + way * 1.6 * em), (middle, edge + way * 1.8 * em)]
        spot = (middle, edge + way * 2.45 * em)
        write(sheet, spot, words, size=_SMALL, colour=label.colour, across="center", upright="center")
    draw_line(sheet, [path], colour=label.colour, width=0.8, over=6.0)


def _begin(label: EdgeLabel, em: float) -> tuple[float, float]:
    """Where a label's leader begins: at the frame, or at the tail of an eye's arrow."""
    if label.towards is None:
        return label.at
    return label.at[0] + 1.5 * em * label.towards[0], label.at[1] + 1.5 * em * label.towards[1]


def _arrow(sheet: Sheet, at: tuple[float, float], out: tuple[float, float]) -> None:
    """Draw an arrow that comes in along ``out`` and points at the frame."""
    em = sheet.em
    place, way = np.array(at), np.array(out)
    aside = np.array([-way[1], way[0]])
    draw_line(sheet, [np.array([place, place + 1.5 * em * way])], width=1.6, over=6.0)
    barb = place + 0.6 * em * way
    fill_area(sheet, [np.array([place, barb + 0.24 * em * aside, barb - 0.24 * em * aside])], INK, over=6.1)


def key_rows(rays: SectionRays, written: set[tuple[int, str]]) -> list[tuple[str, str]]:
    """Say what each wedge stands for: (letter, words); elevations only where the frame shows none."""
    rows = []
    for index, wedge in enumerate(rays.wedges):
        shown = {(index, "low"), (index, "high")} <= written
        angles = "" if shown else f" {degrees(wedge.low)} to {degrees(wedge.high)},"
        words = f"{wedge.kind.word}{angles} between {wedge.low_edge} and {wedge.high_edge}"
        if wedge.alike:
            low, high = wedge.reach
            words += f"; {wedge.alike} more alike, {degrees(low)} to {degrees(high)} in all"
        rows.append((letter(index), words))
    return rows


def letter(index: int) -> str:
    """Name a wedge: A, B, C and so on."""
    return chr(ord("A") + index)


def key_lines(
    sheet: Sheet, rows: Sequence[tuple[str, str]], room: int | None = None
) -> list[tuple[str, str]]:
    """Fold the key's rows into lines that fit the sheet: (letter or nothing, words).

    Where that takes more than ``room`` lines, each row is cut to one.
    """
    for most in (2, 1):
        found = []
        for name, words in rows:
            lines = broken_lines(sheet, words, sheet.width - 4.2 * sheet.em, _SMALL, most=most)
            found += [(name if index == 0 else "", each) for index, each in enumerate(lines)]
        if room is None or len(found) <= room:
            break
    return found


def draw_key(sheet: Sheet, kinds: Sequence[Kind], lines: Sequence[tuple[str, str]], top: float) -> None:
    """Write the key from ``top`` downwards."""
    em = sheet.em
    colours = iter([KIND_COLOURS[kind] for kind in kinds])
    for index, (name, words) in enumerate(lines):
        y = top - (index + 0.5) * ROW * em
        if name:
            write(sheet, (1.2 * em, y), name, size=_SMALL, colour=next(colours), upright="center", bold=True)
        write(sheet, (2.8 * em, y), words, size=_SMALL, upright="center")


@dataclass(frozen=True, slots=True)
class RayMark:
    """A single ray of a class, as the legend shows it; a class alone is a fan between two rays."""

    kind: Kind


Sample = Kind | RayMark | str | Placed
Entry = tuple[str, Sample, float, int]
"""An entry of the legend: words, what is shown beside them, its left side [px] and its row."""


def legend_entries(
    sheet: Sheet,
    parts: Sequence[Placed],
    kinds: Sequence[Kind] = tuple(KIND_COLOURS),
    marks: Mapping[str, "str | RayMark"] = SECTION_MARKS,
) -> list[Entry]:
    """Lay out the legend: the classes, the marks by their words, and each material that is cut."""
    em = sheet.em
    samples: dict[str, Sample] = {kind.word: kind for kind in kinds}
    samples |= marks
    for part in parts:
        samples.setdefault(look_of(part), part)
    x, row, found = 1.2 * em, 0, []
    for words, sample in samples.items():
        fitting = shortened(sheet, words, 18.0 * em, _SMALL)
        wide = 2.0 * em + text_width(sheet, fitting, _SMALL)
        if x + wide > sheet.width - 1.2 * em:
            x, row = 1.2 * em, row + 1
        found.append((fitting, sample, x, row))
        x += wide + 1.5 * em
    return found


def draw_legend(sheet: Sheet, entries: Sequence[Entry], bearing: float, top: float) -> None:
    """Draw the legend from ``top`` downwards."""
    em = sheet.em
    for words, sample, x, row in entries:
        y = top - (row + 0.5) * ROW * em
        _sample(sheet, sample, (x, y - 0.42 * em, x + 1.5 * em, y + 0.42 * em), bearing)
        write(sheet, (x + 2.0 * em, y), words, size=_SMALL, upright="center")


def _sample(sheet: Sheet, sample: Sample, box: Extent, bearing: float) -> None:
    middle = ((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0)
    if isinstance(sample, Placed):
        draw_swatch(sheet, sample, box_loop(box), bearing)
    elif isinstance(sample, RayMark):
        line = [[(box[0], middle[1]), (box[2], middle[1])]]
        draw_line(sheet, line, colour=KIND_COLOURS[sample.kind], width=1.6)
    elif isinstance(sample, str):
        disc(sheet, middle, (0.2 if sample == INK else 0.3) * sheet.em, sample, edge=INK)
    else:
        fill_area(sheet, [box_loop(box)], KIND_COLOURS[sample], opacity=0.22)
        for y in (box[1], box[3]):
            draw_line(sheet, [[(box[0], y), (box[2], y)]], colour=KIND_COLOURS[sample], width=1.4)
