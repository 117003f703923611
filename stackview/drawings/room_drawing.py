"""The room picture: the room from the side, with lamp, table and people to scale, and what shows from every place in it."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Whole
from stackview.description.units import Units
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
    text_width,
    write,
)
from stackview.drawings.eye_seen import EyeSeen, noun_of, one_eye
from stackview.drawings.room_colours import (
    Tone,
    draw_room_key,
    key_rows_needed,
    paint_zones,
    tone_numbers,
    tones,
)
from stackview.drawings.room_marks import draw_eyes, name_zones
from stackview.drawings.room_people import Person, draw_person, people_for
from stackview.drawings.room_words import FreeRoom
from stackview.drawings.section_parts import fill_of
from stackview.drawings.section_rays import surface_span
from stackview.in_figures import bearing_words
from stackview.sight.room import Zone
from stackview.sight.room_side import RoomSide
from stackview.stack.assembly import Stack
from stackview.stills.picture import Picture, picture_of
from stackview.study import Study, of_study

_LEFT_MOST = 900.0
"""How much of the room on the lamp's other side is shown [mm]."""
_BOARD, _LEG = 28.0, 42.0
"""Thickness of a table's top and of its legs [mm]."""
_SHELF = 1000.0
"""What is higher than this stands on no legs of its own [mm]."""
_TABLE = "#c3ab86"
_FOOT = 304.8
"""[mm]"""


@dataclass(frozen=True, slots=True)
class _View:
    """Where the room is on the sheet: ``frame`` of the zones [px], ``scale`` [px/mm], place of axis and floor [px]."""

    frame: tuple[int, int, int, int]
    scale: float
    axis: float
    floor: float
    people: float

    def at(self, distance: float, height: float) -> tuple[float, float]:
        return self.axis + distance * self.scale, self.floor + height * self.scale


@of_study
def room_picture(study: Study, bearing: float | None = None, size: tuple[int, int] = (1600, 900)) -> Picture:
    """Draw from where in the room light points show: (h, w, 3) of exactly ``size`` (width, height) [px].

    Every place is coloured by what an eye there sees from the worst bearing; or, with a ``bearing`` [°], from that one.

    Raises
    ------
    ValueError
        When ``size`` is too small to hold legible text.
    """
    return picture_of(pixels(room_sheet(study, bearing, size)))


def room_sheet(study: Study, bearing: float | None, size: tuple[int, int]) -> Sheet:
    """Draw the room on a sheet that can still be measured."""
    sheet = blank(size)
    lines = study.sightlines
    side = lines.room if bearing is None else lines.room_towards(bearing)
    seen = [one_eye(own, bearing) for own in lines.eyes]
    noun = noun_of(study)
    known = tones(side.zones, noun)
    top = head(sheet, *_words(study, seen, bearing, noun))
    people = people_for(tuple(own.height for own in seen))
    view = _placed(sheet, study, side, known, people, top)
    numbers = _zones(sheet, view, side, known)
    _axes(sheet, view, side, study.lamp.units)
    table = _table(sheet, view, study, seen, bearing)
    _lamp(sheet, view, study.stack)
    room = FreeRoom.of(tuple(float(end) for end in view.frame))  # type: ignore[arg-type]
    if table is not None:
        room.take(table)
    _people(sheet, view, people, study.lamp.units)
    draw_eyes(sheet, room, [(own, view.at(own.distance, own.height)) for own in seen], known, noun)
    name_zones(sheet, room, numbers, known)
    draw_room_key(
        sheet, known, (1.2 * sheet.em, 0.0, sheet.width - 1.2 * sheet.em, view.floor - 3.6 * sheet.em)
    )
    return sheet


def _words(study: Study, seen: list[EyeSeen], bearing: float | None, noun: str) -> tuple[str, str]:
    """Title and the line under it."""
    worst = sorted(seen, key=lambda own: (-own.zone[0], -own.zone[1]))
    showing = [own for own in worst if own.zone[0] != Zone.NOTHING]
    if not len(study.sightlines.points):
        claim = "nothing is lit, so nothing shows"
    elif not showing:
        claim = f"no named eye sees {'an' if noun == 'LED' else 'a'} {noun}"
    else:
        parts = [f"{own.name} sees {own.words(noun)[0]}" for own in showing[:3]]
        others = len(seen) - len(showing)
        if len(showing) > 3:
            parts.append(f"{len(showing) - 3} more see some")
        elif others:
            blind = [own.name for own in worst if own.zone[0] == Zone.NOTHING]
            parts.append(f"{blind[0]} sees none" if others == 1 else f"{others} others see none")
        claim = ", ".join(parts)
    where = (
        "at worst, on its way round the lamp" if bearing is None else f"from bearing {bearing_words(bearing)}"
    )
    under = (
        f"The room from the side, to scale. Each place has the colour of what an eye there sees {where}, "
        f"and of how many {noun}s at once."
    )
    return f"{study.lamp.name}: {claim}", under


def _placed(
    sheet: Sheet,
    study: Study,
    side: RoomSide,
    known: tuple[Tone, ...],
    people: tuple[Person, ...],
    top: float,
) -> _View:
    """Lay the room out: as large as the sheet allows, the people's strip on its right."""
    em, extent = sheet.em, side.extent
    surface = study.lamp.surface
    left = extent.near + 60.0
    if surface is not None:
        left = min(max(left, max(surface.size) / 2.0 + 60.0), _LEFT_MOST)
    gap = 160.0
    across = left + extent.far + sum(person.wide + gap for person in people)
    rows = key_rows_needed(sheet, known, sheet.width - 2.4 * em)
    floor = (rows * 3.6 + 4.4) * em
    scale = min((sheet.width - 2.4 * em) / across, (top - 1.0 * em - floor) / extent.top)
    spare = sheet.width - 2.4 * em - across * scale
    axis = 1.2 * em + spare / 2.0 + left * scale
    # Whole pixels, for the zones are an image.
    low = round(floor + max(top - 1.0 * em - floor - extent.top * scale, 0.0) / 2.0)
    begin, end = round(axis + extent.near * scale), round(axis + extent.far * scale)
    return _View(
        (begin, low, end, low + round(extent.top * scale)), scale, axis, float(low), end + gap * scale
    )


def _zones(sheet: Sheet, view: _View, side: RoomSide, known: tuple[Tone, ...]) -> Whole:
    """Paint the zones; returns the tone of each pixel of the frame (h, w), first row below."""
    left, low, right, high = view.frame
    distances = np.asarray((np.arange(left, right) + 0.5 - view.axis) / view.scale, np.float64)
    heights = (np.arange(2 * low, 2 * high) + 0.5) / 2.0
    numbers = tone_numbers(
        side.drawn(distances, np.asarray((heights - view.floor) / view.scale, np.float64)), known
    )
    return paint_zones(sheet, numbers, known, left, low)


def _axes(sheet: Sheet, view: _View, side: RoomSide, units: Units) -> None:
    em = sheet.em
    left, low, right, high = view.frame
    fill_area(sheet, [box_loop((left, low, right, high))], None, edge=FAINT, over=3.5)
    begin = view.axis - (view.frame[0] - view.axis)
    draw_line(
        sheet,
        [[(min(begin, 1.2 * em), view.floor), (sheet.width - 1.2 * em, view.floor)]],
        width=2.0,
        over=6.0,
    )
    for mm, words in room_ticks(units, side.extent.far, sheet.width / view.scale / 11.0):
        x = view.at(mm, 0.0)[0]
        draw_line(sheet, [[(x, view.floor - 0.4 * em), (x, view.floor)]], colour=QUIET, over=6.0)
        spot = (x, view.floor - 1.4 * em)
        write(sheet, spot, words, size=0.85, colour=QUIET, across="center", upright="baseline")
    spot = ((left + right) / 2.0, view.floor - 2.6 * em)
    write(sheet, spot, "distance from the lamp", size=0.85, colour=QUIET, across="center", upright="baseline")


def room_ticks(units: Units, far: float, apart: float) -> list[tuple[float, str]]:
    """Round distances up to ``far`` at least ``apart`` [mm], in metres or feet, with their words.

    >>> [words for _, words in room_ticks(Units("mm"), 2000.0, 400.0)]
    ['0', '0.5 m', '1 m', '1.5 m', '2 m']
    """
    of, name = (_FOOT, "ft") if units.in_inches else (1000.0, "m")
    step = next((step for step in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0) if step * of >= apart), 50.0)
    count = int(far / (step * of) + 1e-9)
    return [
        (index * step * of, f"{round(index * step, 6):g} {name}" if index else "0")
        for index in range(count + 1)
    ]


def room_length(units: Units, mm: float) -> str:
    """A height or distance in a room: to a hundredth of a metre, or in feet and whole inches.

    >>> room_length(Units("mm"), 1691.4), room_length(Units("in"), 1600.0)
    ('1.69 m', '5 ft 3 in')
    """
    return units.alone.run(mm) if units.in_inches else f"{mm / 1000.0:.2f} m"


def _table(
    sheet: Sheet, view: _View, study: Study, seen: list[EyeSeen], bearing: float | None
) -> Extent | None:
    """Draw what the lamp stands on as it is towards the bearing, or the worst eye's; or the cord that it hangs from."""
    surface, stack = study.lamp.surface, study.stack
    if surface is None:
        if any(part.is_cord for part in stack.placed) or study.lamp.hangs_at is not None:
            top = view.at(0.0, stack.floor + stack.height)
            draw_line(sheet, [[top, (view.axis, float(view.frame[3]))]], colour=QUIET, width=1.6, over=3.8)
        return None
    worst = max(seen, key=lambda own: own.zone, default=None)
    towards = bearing if bearing is not None else worst.worst if worst is not None else 0.0
    span = surface_span(surface, towards)
    if span is None:
        return None
    edge = 1.2 * sheet.em
    left, right = (view.at(end, 0.0)[0] for end in span)
    left, right = max(left, edge), min(right, view.frame[2] - 1.0)
    upper = view.at(0.0, surface.height)[1]
    under = upper - max(_BOARD * view.scale, 3.0)
    fill_area(sheet, [box_loop((left, under, right, upper))], _TABLE, edge="#8b7450", width=0.8, over=5.6)
    if surface.height <= _SHELF:
        thick = max(_LEG * view.scale, 3.0)
        inset = min(0.06 * (right - left), 60.0 * view.scale)
        for x in (left + inset, right - inset - thick):
            leg = box_loop((x, view.floor, x + thick, under))
            fill_area(sheet, [leg], "#d8c9ae", edge="#a8946f", width=0.6, over=5.4)
    return left, view.floor if surface.height <= _SHELF else under, right, upper


def _lamp(sheet: Sheet, view: _View, stack: Stack) -> None:
    """Draw every part's outline from the side, in its own colour."""
    for part in stack.placed:
        places = part.solid.vertices
        if part.is_cord or not len(places):
            continue
        reach = float(np.hypot(places[:, 0], places[:, 1]).max())
        low, high = float(places[:, 2].min()) + stack.floor, float(places[:, 2].max()) + stack.floor
        (left, under), (right, over) = view.at(-reach, low), view.at(reach, high)
        colour = fill_of(part)
        order = 6.4 if part.is_core else 6.6
        fill_area(
            sheet, [box_loop((left, under, right, over))], colour, edge="#3b3d40", width=0.5, over=order
        )


def _people(sheet: Sheet, view: _View, people: tuple[Person, ...], units: Units) -> None:
    """Draw people beside the room, and a line from their eyes across it."""
    em = sheet.em
    x = view.people
    for person in people:
        eye = draw_person(sheet, person, x, view.floor, view.scale)
        line = [(float(view.frame[0]), eye[1]), (eye[0], eye[1])]
        draw_line(sheet, [line], colour=INK, width=0.8, dashes=(0.5, 0.45), over=4.1, opacity=0.35)
        middle = x + person.wide * view.scale / 2.0
        words = room_length(units, person.eye)
        half = max(text_width(sheet, person.posture, 0.85), text_width(sheet, words, 0.85)) / 2.0
        middle = min(middle, sheet.width - 1.0 * em - half)
        over = eye[1] + 130.0 * view.scale
        for row, (text, ink) in enumerate(((words, QUIET), (person.posture, INK))):
            spot = (middle, over + (0.35 + 1.15 * row) * em)
            write(sheet, spot, text, size=0.85, colour=ink, across="center", upright="baseline")
        x += (person.wide + 160.0) * view.scale
