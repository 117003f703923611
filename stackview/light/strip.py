"""A strip is cut at a cut mark: how long it is, and how many light points it carries."""

from dataclasses import dataclass
from math import floor, hypot, pi

from stackview.description.light_source import Strip
from stackview.description.units import Units
from stackview.errors import Fault, LampError

_MARK = 1e-9
"""A length short of a cut mark by less than this share of a segment reaches it."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One length of strip as cut."""

    room: float
    """Length there is room for, or that was asked for [mm]."""
    length: float
    """Length as cut, a whole number of segments [mm]."""
    segments: int
    count: int
    """Light points on it."""


def cut_strip(strip: Strip, room: float, where: str, units: Units) -> Cut:
    """The longest whole number of segments that the room [mm] takes.

    Raises LampError where not even one segment fits, its lengths in the lamp's ``units``.
    """
    segments = floor(room / strip.cut_every + _MARK)
    if segments < 1:
        raise LampError(
            "",
            (
                Fault(
                    where,
                    f"there is room for {units.most(max(room, 0.0))} of strip, shorter than one segment of "
                    f"{units.show(strip.cut_every)}; give it more length or turns, a taller core, or a strip "
                    "with closer cut marks",
                ),
            ),
        )
    length = segments * strip.cut_every
    return Cut(room, length, segments, floor(length / strip.spacing + 1e-6))


def helix_turn(radius: float, pitch: float) -> float:
    """Length of one turn of a helix: √((2πr)² + p²) [mm].

    CRC Standard Mathematical Tables; the table's example:

    >>> round(helix_turn(10.0, 10.0), 8)
    63.62265132
    """
    return hypot(2.0 * pi * radius, pitch)
