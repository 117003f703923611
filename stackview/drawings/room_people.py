"""People to scale beside a room: standing, seated, and propped up in bed, each with the eye at its height.

Proportions are those of an adult, common practice: eyes lie 0.93 of the height of one who stands, and
0.8 m above a seat.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from stackview.arrays import Floats
from stackview.drawings.chart_style import Sheet, disc, draw_line, fill_area

SKIN = "#c3c7cb"
_BED = "#dcd5c8"
_STANDS, _SITS = 1350.0, 900.0
"""Eyes from these heights on are those of people who stand, or sit [mm]; lower ones lie."""
_HEAD = 105.0
"""Radius of a head [mm]."""


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who looks to the left: a posture and the height of the eyes above the floor [mm]."""

    posture: str
    eye: float

    @property
    def wide(self) -> float:
        """How much room they take across [mm]."""
        return {"standing": 420.0, "seated": 720.0, "lying": 1180.0}[self.posture]


def people_for(heights: tuple[float, ...]) -> tuple[Person, ...]:
    """One person for each posture that named eyes at these heights have, the tallest first."""
    found: dict[str, float] = {}
    for height in sorted(heights, reverse=True):
        posture = "standing" if height >= _STANDS else "seated" if height >= _SITS else "lying"
        found.setdefault(posture, height)
    return tuple(Person(posture, height) for posture, height in found.items())


def draw_person(sheet: Sheet, person: Person, left: float, floor: float, scale: float) -> tuple[float, float]:
    """Draw a person whose room begins at ``left``, on a floor at that height [px]; returns where the eye is.

    ``scale`` is in pixels for a millimetre.
    """

    def at(x: float, y: float) -> tuple[float, float]:
        return left + x * scale, floor + y * scale

    def limb(places: list[tuple[float, float]], thick: float) -> None:
        joints = np.array([at(*place) for place in places])
        for one, other in pairwise(joints):
            fill_area(sheet, [_rounded(one, other, thick * scale / 2.0)], SKIN, over=4.2)

    eye = person.eye
    if person.posture == "standing":
        head = (200.0, eye)
        limb([(230.0, eye), (222.0, eye - 260.0)], 110.0)
        limb([(215.0, eye - 300.0), (215.0, 0.52 * eye)], 250.0)
        limb([(215.0, 0.52 * eye), (215.0, 75.0)], 150.0)
    elif person.posture == "seated":
        seat, head = max(eye - 800.0, 150.0), (510.0, eye)
        _chair(sheet, at, seat)
        limb([(540.0, eye), (528.0, eye - 260.0)], 110.0)
        limb([(520.0, eye - 300.0), (520.0, seat + 110.0)], 250.0)
        limb([(520.0, seat + 80.0), (140.0, seat + 80.0)], 160.0)
        limb([(140.0, seat + 80.0), (140.0, 65.0)], 130.0)
    else:
        bed, head = max(eye - 520.0, 60.0), (860.0, eye)
        corner = [at(0.0, 0.0), at(1180.0, 0.0), at(1180.0, bed), at(0.0, bed)]
        fill_area(sheet, [np.array(corner)], _BED, over=4.0)
        pillow = [at(750.0, bed), at(1150.0, bed), at(1150.0, bed + 420.0), at(1030.0, bed + 420.0)]
        fill_area(sheet, [np.array(pillow)], "#ebe7de", over=4.1)
        limb([(890.0, eye), (900.0, eye - 250.0)], 110.0)
        limb([(900.0, eye - 270.0), (680.0, bed + 130.0)], 230.0)
        limb([(680.0, bed + 110.0), (330.0, bed + 280.0)], 150.0)
        limb([(330.0, bed + 280.0), (90.0, bed + 70.0)], 130.0)
    radius = _HEAD * scale
    middle = at(head[0] + 30.0, head[1])
    disc(sheet, middle, radius, SKIN, over=4.4)
    place = at(head[0] - 35.0, head[1])
    disc(sheet, place, max(0.18 * radius, 1.0), "#3a3d41", over=4.6)
    return place


def _chair(sheet: Sheet, at: Callable[[float, float], tuple[float, float]], seat: float) -> None:
    """A plain chair behind who sits on it."""
    legs = [[at(330.0, seat), at(330.0, 0.0)], [at(660.0, seat + 430.0), at(660.0, 0.0)]]
    draw_line(sheet, [*legs, [at(300.0, seat), at(680.0, seat)]], colour=_BED, width=2.6, over=4.0)


def _rounded(one: Floats, other: Floats, radius: float) -> Floats:
    """A bar from one place to another with round ends (k, 2)."""
    way = np.arctan2(*(other - one)[::-1])
    turn = np.linspace(-np.pi / 2.0, np.pi / 2.0, 13)
    ends = [
        middle + radius * np.stack([np.cos(way + turn + back), np.sin(way + turn + back)], axis=1)
        for middle, back in ((other, 0.0), (one, np.pi))
    ]
    return np.concatenate(ends)
