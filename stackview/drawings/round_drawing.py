"""An eye's own map: what shows at its distance, by bearing and by height, all round the lamp."""

import numpy as np

from stackview.arrays import Whole
from stackview.drawings.chart_style import (
    FAINT,
    INK,
    QUIET,
    Extent,
    Sheet,
    blank,
    box_loop,
    draw_line,
    fill_area,
    head,
    pixels,
    write,
)
from stackview.drawings.eye_seen import EyeSeen, counted, noun_of, one_eye
from stackview.drawings.room_colours import (
    Tone,
    draw_room_key,
    key_rows_needed,
    paint_zones,
    tone_numbers,
    tones,
)
from stackview.drawings.room_drawing import room_ticks
from stackview.drawings.room_marks import draw_eyes, name_zones
from stackview.drawings.room_words import FreeRoom
from stackview.drawings.sightline_map import WAYS
from stackview.in_figures import degrees
from stackview.sight.room_round import RoomRound
from stackview.stills.picture import Picture, picture_of
from stackview.study import Study, of_study

_SAME_DISTANCE = 1.0
"""Eyes this near to the map's distance stand in it [mm]."""
_RISES = (80, 70, 60, 50, 40, 30, 20, 10, 0, -10, -20, -30, -40, -50, -60, -70, -80)
"""Elevations that are marked [°]."""


@of_study
def round_picture(study: Study, distance: float, size: tuple[int, int] = (1600, 1000)) -> Picture:
    """Draw what shows to eyes at a distance from the lamp's axis [mm]: (h, w, 3) of exactly ``size`` [px].

    Raises StackviewError for a distance within the lamp.
    """
    return picture_of(pixels(round_sheet(study, distance, size)))


def round_sheet(study: Study, distance: float, size: tuple[int, int]) -> Sheet:
    """Draw an eye's own map on a sheet that can still be measured."""
    told = study.sightlines.room_round(distance)
    sheet, noun = blank(size), noun_of(study)
    em = sheet.em
    eyes = [
        one_eye(seen, None) for seen in study.eyes if abs(seen.eye.distance - told.distance) <= _SAME_DISTANCE
    ]
    known = tones(told.zones, noun)
    top = head(sheet, *_words(study, told, eyes, noun))
    below = (3.6 * key_rows_needed(sheet, known, sheet.width - 2.4 * em) + 5.6) * em
    frame = (round(6.6 * em), round(below), round(sheet.width - 6.6 * em), round(top - 1.6 * em))
    numbers = _zones(sheet, frame, told, known)
    _axes(sheet, frame, study, told)
    left, low, right, high = frame
    across, up = (right - left) / 360.0, (high - low) / float(told.heights[-1])
    room = FreeRoom.of((float(left), float(low), float(right), float(high)))
    stands = [(own, (left + own.worst * across, low + own.height * up)) for own in eyes]
    for _, (_, y) in stands:
        draw_line(sheet, [[(left, y), (right, y)]], colour=INK, dashes=(0.5, 0.45), over=4.1, opacity=0.5)
    draw_eyes(sheet, room, stands, known, noun)
    name_zones(sheet, room, numbers, known)
    draw_room_key(sheet, known, (1.2 * em, 0.0, sheet.width - 1.2 * em, below - 4.2 * em))
    return sheet


def _words(study: Study, told: RoomRound, eyes: list[EyeSeen], noun: str) -> tuple[str, str]:
    """Title and the line under it."""
    far = study.lamp.units.alone.show(told.distance)
    worst = sorted(eyes, key=lambda own: (-own.zone[0], -own.zone[1]))
    if not len(study.sightlines.points):
        claim = "nothing is lit, so nothing shows"
    elif worst:
        own = worst[0]
        seen = own.words(noun)[0]
        claim = f"{own.name} sees {'none' if seen == f'no {noun}' else seen}"
    else:
        bare, *behind = told.counts.max(axis=(1, 2)).tolist()
        claim = f"up to {counted(bare, noun)} bare" if bare else f"no {noun} bare"
        if not bare and any(behind):
            claim += f", up to {max(behind)} through acrylic"
    return (
        f"{study.lamp.name} from {far}: {claim}",
        f"Eyes that walk round the lamp {far} from its axis, by bearing and by height above the floor: each place "
        f"has the colour of what an eye there sees, and of how many {noun}s at once.",
    )


def _zones(sheet: Sheet, frame: tuple[int, int, int, int], told: RoomRound, known: tuple[Tone, ...]) -> Whole:
    """Paint the zones; returns the tone of each pixel of the frame (h, w), first row below."""
    left, low, right, high = frame
    wide, tall = right - left, high - low
    count, rows = len(told.bearings), len(told.heights)
    turn = np.rint((np.arange(wide) + 0.5) * count / wide).astype(np.int64) % count
    row = np.rint((np.arange(2 * tall) + 0.5) * (rows - 1) / (2 * tall)).astype(np.int64)
    numbers = tone_numbers(told.zones, known)[turn[:, None], row]
    return paint_zones(sheet, numbers, known, left, low)


def _axes(sheet: Sheet, frame: tuple[int, int, int, int], study: Study, told: RoomRound) -> None:
    left, low, right, high = frame
    fill_area(sheet, [box_loop((left, low, right, high))], None, edge=QUIET, over=6.0)
    top = float(told.heights[-1])
    _heights(sheet, frame, study, top)
    middle = study.stack.floor + study.stack.height / 2.0
    _elevations(sheet, frame, middle, told.distance, top)
    _bearings(sheet, frame)


def _heights(sheet: Sheet, frame: Extent, study: Study, top: float) -> None:
    em, (left, low, _, high) = sheet.em, frame
    for mm, words in room_ticks(study.lamp.units, top, 2.4 * em * top / (high - low)):
        y = low + mm / top * (high - low)
        draw_line(sheet, [[(left - 0.4 * em, y), (left, y)]], colour=QUIET)
        spot = (left - 0.6 * em, y)
        write(sheet, spot, words, size=0.85, colour=QUIET, across="right", upright="center")
    _upright(sheet, (1.4 * em, (low + high) / 2.0), "height of the eye above the floor")


def _elevations(sheet: Sheet, frame: Extent, middle: float, distance: float, top: float) -> None:
    """Mark elevations as seen from the lamp's middle, where they do not crowd."""
    em, (_, low, right, high) = sheet.em, frame
    last = -np.inf
    for rise in sorted(_RISES, key=abs):
        y = low + (middle + distance * np.tan(np.radians(rise))) / top * (high - low)
        if not low <= y <= high or (rise and abs(y - last) < 1.8 * em):
            continue
        last = y if rise >= 0 else last
        draw_line(sheet, [[(right, y), (right + 0.4 * em, y)]], colour=QUIET)
        spot = (right + 0.6 * em, y)
        write(sheet, spot, degrees(rise, places=0), size=0.85, colour=QUIET, upright="center")
    _upright(sheet, (sheet.width - 1.4 * em, (low + high) / 2.0), "elevation from the lamp's middle")


def _upright(sheet: Sheet, spot: tuple[float, float], words: str) -> None:
    write(sheet, spot, words, size=0.85, colour=QUIET, across="center", upright="center", turn=90.0)


def _bearings(sheet: Sheet, frame: Extent) -> None:
    em, (left, low, right, _) = sheet.em, frame

    def put(bearing: float, below: float, words: str, colour: str) -> None:
        spot = (left + bearing / 360.0 * (right - left), low - below * em)
        write(sheet, spot, words, size=0.85, colour=colour, across="center", upright="baseline")

    for bearing in range(0, 361, 45 if right - left > 34 * em else 90):
        x = left + bearing / 360.0 * (right - left)
        draw_line(sheet, [[(x, low - 0.4 * em), (x, low)]], colour=QUIET)
        if 0 < bearing < 360:
            draw_line(sheet, [[(x, low), (x, frame[3])]], colour=FAINT, opacity=0.5, over=4.0)
        put(bearing, 1.35, f"{bearing}°", QUIET)
        if bearing in WAYS:
            put(bearing, 2.5, WAYS[bearing], INK)
    put(180.0, 3.75, "bearing, counter-clockwise seen from above", QUIET)
