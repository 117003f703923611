"""Named eyes in a picture of a room, and the words in its zones."""

import numpy as np

from stackview.arrays import Whole, Yes
from stackview.drawings.chart_style import (
    FAINT,
    INK,
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
from stackview.drawings.eye_seen import EyeSeen
from stackview.drawings.room_colours import Tone
from stackview.drawings.room_words import FreeRoom
from stackview.sight.room import Zone


def draw_eyes(
    sheet: Sheet,
    room: FreeRoom,
    eyes: list[tuple[EyeSeen, tuple[float, float]]],
    known: tuple[Tone, ...],
    noun: str,
) -> None:
    """Draw named eyes at their places with what they see, each label where nothing else is."""
    em = sheet.em
    half = 1.15 * em
    for _, (x, y) in eyes:
        room.take((x - half, y - 0.7 * em, x + half, y + 0.7 * em))
    for own, (x, y) in sorted(eyes, key=lambda one: one[1]):
        zone, count = own.zone
        tone = next((one for one in known if one.zone == zone and one.least <= count <= one.most), known[-1])
        _eye(sheet, (x, y), half, tone)
        lines = [shortened(sheet, own.name, 17.0 * em, 0.95, bold=True), *own.words(noun)]
        wide = max(
            text_width(sheet, words, 0.95 if row == 0 else 0.85, bold=row == 0)
            for row, words in enumerate(lines)
        )
        wide, tall = wide + 0.9 * em, (1.25 * len(lines) + 0.45) * em
        box = room.beside((x, y), wide, tall, 1.35 * em)
        if box is None:
            continue
        room.take((box[0] - 2.0, box[1] - 2.0, box[2] + 2.0, box[3] + 2.0))
        near = (min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3]))
        if np.hypot(near[0] - x, near[1] - y) > 1.6 * em:
            draw_line(sheet, [[(x, y), near]], colour=PAPER, width=3.4, over=7.9, opacity=0.8)
            draw_line(sheet, [[(x, y), near]], colour=INK, width=1.1, over=8.0)
        fill_area(sheet, [box_loop(box)], PAPER, edge=FAINT, opacity=0.93, over=9.0)
        for row, words in enumerate(lines):
            spot = (box[0] + 0.45 * em, box[3] - (1.15 + 1.25 * row) * em)
            size, ink = (0.95, INK) if row == 0 else (0.85, INK if zone != Zone.NOTHING else QUIET)
            write(sheet, spot, words, size=size, colour=ink, upright="baseline", bold=row == 0)


def _eye(sheet: Sheet, at: tuple[float, float], half: float, tone: Tone) -> None:
    """An eye whose iris has the colour of what it sees."""
    turn = np.linspace(-1.0, 1.0, 25)
    lid = 0.58 * half * (1.0 - turn**2)
    upper = np.stack([at[0] + half * turn, at[1] + lid], axis=1)
    lower = np.stack([at[0] + half * turn[::-1], at[1] - lid[::-1]], axis=1)
    fill_area(sheet, [np.concatenate([upper, lower[1:-1]])], PAPER, edge=INK, width=1.5, over=10.0)
    disc(sheet, at, 0.42 * half, tone.colour, edge=INK, over=10.2)
    disc(sheet, at, 0.17 * half, INK, over=10.4)


def name_zones(sheet: Sheet, room: FreeRoom, numbers: Whole, known: tuple[Tone, ...]) -> None:
    """Write in each zone that has the room what shows there; the same again only far away."""
    em = sheet.em
    cells = room.cells_of(numbers)
    for index in np.argsort(-np.bincount(cells[cells >= 0], minlength=len(known)), kind="stable").tolist():
        tone, mask = known[index], cells == index
        for _ in range(2):
            at = _named(sheet, room, mask, tone)
            if at is None:
                break
            mask = mask & ~_around(room, at, 34.0 * em, 7.0 * em)


def _named(sheet: Sheet, room: FreeRoom, mask: Yes, tone: Tone) -> tuple[float, float] | None:
    """Write a tone's words in its mask, as large and with as much room about them as there is; returns where."""
    em = sheet.em
    for size, words in ((1.25, tone.words), (1.0, tone.words), (0.85, tone.short)):
        wide, tall = text_width(sheet, words, size, bold=True) + 0.8 * em, 1.5 * size * em
        for spare in (3.0, 2.0, 1.4, 1.0):
            at = room.inside(mask, wide + 2.0 * (spare - 1.0) * em, tall * spare, (0.8, 0.5))
            if at is None:
                continue
            write(sheet, at, words, size=size, colour=tone.ink, across="center", upright="center", bold=True)
            room.take((at[0] - wide / 2.0, at[1] - tall / 2.0, at[0] + wide / 2.0, at[1] + tall / 2.0))
            return at
    return None


def _around(room: FreeRoom, at: tuple[float, float], wide: float, tall: float) -> Yes:
    found = FreeRoom(room.frame, np.zeros_like(room.taken))
    found.take((at[0] - wide, at[1] - tall, at[0] + wide, at[1] + tall))
    return found.taken
