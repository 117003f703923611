"""The plan of the room: from above, what shows to eyes at one height all round the lamp."""

from math import cos, pi, radians, sin

import numpy as np

from stackview.arrays import Floats, Whole
from stackview.description.units import Units
from stackview.drawings.chart_style import (
    FAINT,
    INK,
    PAPER,
    QUIET,
    Sheet,
    blank,
    draw_line,
    fill_area,
    head,
    image,
    pixels,
    text_width,
    write,
)
from stackview.drawings.eye_seen import EyeSeen, noun_of, one_eye
from stackview.drawings.map_margins import rgb
from stackview.drawings.room_colours import Tone, draw_room_key, key_rows_needed, tone_numbers, tones
from stackview.drawings.room_drawing import room_length, room_ticks
from stackview.drawings.room_marks import draw_eyes, name_zones
from stackview.drawings.room_words import FreeRoom
from stackview.in_figures import bearing_words
from stackview.sight.eyes import Seen
from stackview.sight.room_plan import RoomPlan
from stackview.sight.surface import surface_rim
from stackview.stills.picture import Picture, picture_of
from stackview.study import Study, of_study

_SAME_HEIGHT = 5.0
"""Eyes this near to the plan's height stand in it [mm]."""
_FINER = 2
"""Samples along each side of a pixel."""


@of_study
def plan_picture(study: Study, eye: str | None = None, size: tuple[int, int] = (1200, 1300)) -> Picture:
    """Draw what shows all round the lamp to eyes as high as a named one's: (h, w, 3) of exactly ``size`` [px].

    Without a name, that of the eye that sees most. Raises StackviewError for a name that no eye has.
    """
    return picture_of(pixels(plan_sheet(study, eye, size)))


def plan_sheet(study: Study, eye: str | None, size: tuple[int, int]) -> Sheet:
    """Draw the plan on a sheet that can still be measured."""
    sheet = blank(size)
    lines, em = study.sightlines, sheet.em
    chosen = lines.eye(eye)
    plan = lines.room_plan(chosen.eye.height)
    noun = noun_of(study)
    known = tones(plan.zones, noun)
    top = head(sheet, *_words(study, chosen, plan, noun))
    rows = key_rows_needed(sheet, known, sheet.width - 2.4 * em)
    below = (3.6 * rows + 4.6) * em
    half = int(min(sheet.width / 2.0 - 3.0 * em, (top - 2.2 * em - below) / 2.0))
    middle = sheet.width // 2, round((top - 2.2 * em + below) / 2.0)
    scale = half / plan.distances[-1]
    numbers = _zones(sheet, plan, known, middle, half, float(scale))
    _round_about(sheet, plan, middle, float(scale), study.lamp.units)
    _things(sheet, study, middle, float(scale))
    left, low = middle[0] - half, middle[1] - half
    room = FreeRoom.of((float(left), float(low), float(left + 2 * half), float(low + 2 * half)))
    own = [one_eye(seen, None) for seen in lines.eyes if abs(seen.eye.height - plan.height) <= _SAME_HEIGHT]
    draw_eyes(sheet, room, [(one, _stands(one, middle, float(scale))) for one in own], known, noun)
    name_zones(sheet, room, numbers, known)
    draw_room_key(sheet, known, (1.2 * em, 0.0, sheet.width - 1.2 * em, below - 2.6 * em))
    return sheet


def _words(study: Study, chosen: Seen, plan: RoomPlan, noun: str) -> tuple[str, str]:
    """Title and the line under it."""
    own = one_eye(chosen, None)
    words = own.words(noun)[0].replace(f"no {noun}", "none")
    height = room_length(study.lamp.units, plan.height)
    side = (
        f"; at worst, from bearing {bearing_words(own.worst)}, {own.name} sees {words}"
        if words != "none"
        else (f"; {own.name} sees none from any side")
    )
    return (
        f"{study.lamp.name} from above, for eyes {height} above the floor{side}",
        f"Each place has the colour of what an eye there sees, and of how many {noun}s. "
        "The front is at the foot of the page.",
    )


def _zones(
    sheet: Sheet, plan: RoomPlan, known: tuple[Tone, ...], middle: tuple[int, int], half: int, scale: float
) -> Whole:
    """Paint the round of zones; returns the tone of each pixel (h, w), first row below, -1 outside it."""
    fine = _FINER * 2 * half
    along = ((np.arange(fine) + 0.5) / _FINER - half) / scale
    x, y = along[None, :], along[:, None]
    distance, bearing = np.hypot(x, y), np.degrees(np.arctan2(x, -y)) % 360.0
    numbers = tone_numbers(plan.at(bearing, distance), known)
    outside = (distance < plan.distances[0]) | (distance > plan.distances[-1])
    numbers[outside] = len(known)
    colours = np.array([rgb(tone.colour) for tone in known] + [rgb(PAPER)], np.uint16)[numbers]
    mixed = colours.reshape(2 * half, _FINER, 2 * half, _FINER, 3).sum(axis=(1, 3)) // _FINER**2
    image(sheet, np.ascontiguousarray(mixed[::-1].astype(np.uint8)), middle[0] - half, middle[1] - half)
    numbers[outside] = -1
    return np.asarray(numbers[::_FINER, ::_FINER])


def _round_about(sheet: Sheet, plan: RoomPlan, middle: tuple[int, int], scale: float, units: Units) -> None:
    """Circles of distance and the four sides."""
    em, turn = sheet.em, np.linspace(0.0, 2.0 * pi, 181)
    far = float(plan.distances[-1])
    for mm, words in room_ticks(units, far, far / 5.0)[1:]:
        circle = np.array(middle) + mm * scale * np.stack([np.cos(turn), np.sin(turn)], axis=1)
        draw_line(sheet, [circle], colour=INK, width=0.8, dashes=(0.4, 0.5), over=4.0, opacity=0.35)
        at = (middle[0] + mm * scale * cos(radians(-38.0)), middle[1] + mm * scale * sin(radians(-38.0)))
        wide = text_width(sheet, words, 0.8) / 2.0 + 0.25 * em
        box = np.array([[-wide, -0.6 * em], [wide, -0.6 * em], [wide, 0.6 * em], [-wide, 0.6 * em]]) + at
        fill_area(sheet, [box], PAPER, opacity=0.8, over=4.5)
        write(sheet, at, words, size=0.8, colour=QUIET, across="center", upright="center")
    rim = np.array(middle) + far * scale * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    draw_line(sheet, [rim], colour=FAINT, over=4.2)
    reach = far * scale + 0.9 * em
    for words, (x, y) in {"front": (0, -1), "right": (1, 0), "back": (0, 1), "left": (-1, 0)}.items():
        spot = (middle[0] + x * reach, middle[1] + y * (reach + 0.2 * em))
        across = {1: "left", -1: "right", 0: "center"}[x]
        turned = 90.0 if x else 0.0
        write(sheet, spot, words, size=0.85, across="center" if x else across, upright="center", turn=turned)


def _things(sheet: Sheet, study: Study, middle: tuple[int, int], scale: float) -> None:
    """What the lamp stands on, as a line, and the lamp as seen from above."""
    surface = study.lamp.surface
    if surface is not None:
        rim = surface_rim(surface, 90)
        places = np.array(middle) + scale * np.concatenate([rim, rim[:1]])
        draw_line(sheet, [places], colour=PAPER, width=3.2, over=5.0, opacity=0.7)
        draw_line(sheet, [places], colour="#8b7450", width=1.4, over=5.1)
    for part in study.stack.placed:
        places = part.solid.vertices
        if part.is_cord or not len(places):
            continue
        fill_area(
            sheet, [np.array(middle) + scale * _hull(places[:, :2])], "#6b5a45", edge=INK, width=0.5, over=6.0
        )


def _hull(places: Floats) -> Floats:
    from shapely.geometry import MultiPoint

    shape = MultiPoint(places).convex_hull
    return np.asarray(shape.exterior.coords)[:-1] if shape.geom_type == "Polygon" else places[:3]


def _stands(own: EyeSeen, middle: tuple[int, int], scale: float) -> tuple[float, float]:
    """Where an eye stands at its worst bearing."""
    turn = radians(own.worst)
    return middle[0] + own.distance * scale * sin(turn), middle[1] - own.distance * scale * cos(turn)
