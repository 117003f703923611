"""Labels beside the parts of a picture, with leaders: what is written of a size is never cut short."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from stackview.drawings.chart_style import (
    INK,
    QUIET,
    Sheet,
    broken_lines,
    disc,
    draw_line,
    shortened,
    text_width,
    write,
)
from stackview.drawings.label_spread import spread

_SMALL = 0.86
_MOST_LINES = 6
_NAMES_ONLY = "At this size names alone fit: a larger picture has every size."


@dataclass(frozen=True, slots=True)
class Label:
    """What is written beside a part, and where its leader ends [px from the lower left]."""

    name: str
    what: str
    """Material, thickness and size, in words."""
    brief: tuple[str, str]
    """Size with thickness in as few words as there are, and the material, which may be left out."""
    end: tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Written:
    """One label as it is written: its heading, what follows on the same line, and lines below."""

    heading: str
    beside: str = ""
    below: tuple[str, ...] = ()

    @property
    def tall(self) -> float:
        """Height [em]."""
        return 1.25 + 1.2 * len(self.below) + 0.5 * bool(self.below)


def write_labels(sheet: Sheet, labels: Sequence[Label], column: float) -> None:
    """Write labels from ``column`` [px] to the right edge, each as near its part as the others let it.

    Words are told of each part; where they crowd, once for all parts alike; then in one line each;
    and where even that is too long, names stand alone and the picture says so.
    """
    em = sheet.em
    room = sheet.width - column - 1.2 * em
    low, high = 1.2 * em, sheet.height - 4.0 * em
    for way in _ways(sheet, labels, room):
        if not way:
            continue
        middles = spread([label.end[1] for label in labels], [one.tall * em for one in way], low, high)
        if middles is not None:
            _draw(sheet, labels, way, middles, column)
            return
    write(sheet, (1.6 * em, sheet.height - 3.75 * em), shortened(sheet, _NAMES_ONLY, sheet.width - 3.2 * em, _SMALL),
          size=_SMALL, colour=QUIET, upright="baseline")  # fmt: skip
    high -= 0.8 * em
    most = int((high - low) / (1.25 * em))
    if len(labels) > most:
        picked = np.unique(np.rint(np.linspace(0, len(labels) - 1, most)).astype(int))
        labels = [labels[index] for index in picked.tolist()]
    way = [_Written(shortened(sheet, label.name, room, bold=True)) for label in labels]
    middles = spread([label.end[1] for label in labels], [one.tall * em for one in way], low, high)
    if middles is not None:
        _draw(sheet, labels, way, middles, column)


def _ways(sheet: Sheet, labels: Sequence[Label], room: float) -> Iterator[list[_Written]]:
    """Ways to write all labels, the fullest first; an empty one where a size would not fit its line."""
    first: dict[str, str] = {}
    for label in labels:
        first.setdefault(label.what, label.name)
    for told in (_full, _brief):
        own = [told(sheet, label, room) for label in labels]
        whole = [one for one in own if one is not None]
        if len(whole) < len(own):
            yield []
            continue
        yield whole
        yield [
            one if first[label.what] == label.name else _as(sheet, label.name, first[label.what], room)
            for label, one in zip(labels, whole, strict=True)
        ]


def _full(sheet: Sheet, label: Label, room: float) -> _Written | None:
    lines = tuple(broken_lines(sheet, label.what, room, _SMALL, most=_MOST_LINES))
    if " ".join(lines) != label.what:
        return None
    return _Written(shortened(sheet, label.name, room, bold=True), below=lines)


def _brief(sheet: Sheet, label: Label, room: float) -> _Written | None:
    size, material = label.brief
    name = shortened(sheet, label.name, 0.4 * room, bold=True)
    left = room - text_width(sheet, name, bold=True) - 0.6 * sheet.em
    for words in (f"{size}, {material}", size):
        if text_width(sheet, words, _SMALL) <= left:
            return _Written(name, words)
    return None


def _as(sheet: Sheet, name: str, other: str, room: float) -> _Written:
    name = shortened(sheet, name, 0.5 * room, bold=True)
    left = room - text_width(sheet, name, bold=True) - 0.6 * sheet.em
    return _Written(name, shortened(sheet, f"as {other}", left, _SMALL))


def _draw(
    sheet: Sheet,
    labels: Sequence[Label],
    way: Sequence[_Written],
    middles: Sequence[float],
    column: float,
) -> None:
    em = sheet.em
    for label, one, middle in zip(labels, way, middles, strict=True):
        first = middle + one.tall * em / 2.0 - (1.0 + 0.25 * bool(one.below)) * em
        write(sheet, (column, first), one.heading, bold=True, upright="baseline")
        if one.beside:
            x = column + text_width(sheet, one.heading, bold=True) + 0.6 * em
            write(sheet, (x, first), one.beside, size=_SMALL, colour=QUIET, upright="baseline")
        for number, words in enumerate(one.below):
            y = first - 1.2 * (number + 1) * em
            write(sheet, (column, y), words, size=_SMALL, colour=QUIET, upright="baseline")
        beside = first + 0.36 * em
        elbow = column - 1.6 * em
        draw_line(sheet, [[label.end, (elbow, beside), (column - 0.5 * em, beside)]], colour=INK, width=0.9)
        disc(sheet, label.end, 0.17 * em, INK)
