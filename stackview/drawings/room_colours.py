"""What the zones of a room are in_tones and called: kinds by colour, numbers by how deep it is."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Whole
from stackview.drawings.chart_style import (
    FAINT,
    INK,
    PAPER,
    QUIET,
    Extent,
    Sheet,
    box_loop,
    fill_area,
    image,
    text_width,
    write,
)
from stackview.drawings.map_margins import RAMPS, rgb
from stackview.sight.bands import Kind
from stackview.sight.room import Zone, Zones

NOTHING_COLOUR = "#edf0ea"
NOTHING_INK = "#4d664d"
_PART = {Zone.PART_BARE: "#fdf3d6", Zone.PART_VEILED: "#e6e3ea"}
_KIND = {Zone.BARE: Kind.BARE, Zone.GLAZED: Kind.GLAZED, Zone.VEILED: Kind.VEILED}
_SINGLY = 10
"""Up to this many at most, every number has a colour of its own."""
_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000)
_SMALL = 0.85
_NAMES = {
    Zone.BARE: "seen bare, straight through air",
    Zone.PART_BARE: "only an edge, bare",
    Zone.GLAZED: "through clear acrylic only",
    Zone.VEILED: "through sanded or opal acrylic only",
    Zone.NOTHING: "none in sight",
    Zone.PART_VEILED: "only an edge, through sanded or opal",
}
_BEHIND = {Zone.GLAZED: "through clear acrylic", Zone.VEILED: "through acrylic"}


@dataclass(frozen=True, slots=True)
class Tone:
    """One sort of zone: what shows, from how many to how many light points, and its colour."""

    zone: Zone
    least: int
    most: int
    colour: str
    noun: str = "LED"

    @property
    def number(self) -> str:
        """How many, in figures."""
        return str(self.least) if self.least == self.most else f"{self.least}–{self.most}"

    @property
    def words(self) -> str:
        """What an eye there sees."""
        if self.zone == Zone.NOTHING:
            return f"no {self.noun} in sight"
        if self.zone in _PART:
            return f"edge of {'an' if self.noun == 'LED' else 'a'} {self.noun}"
        noun = self.noun if self.most == 1 else f"{self.noun}s"
        behind = _BEHIND.get(self.zone)
        return f"{self.number} {noun} {behind}" if behind else f"{self.number} {noun}"

    @property
    def short(self) -> str:
        """The same where there is less room."""
        return self.words.replace(" through clear acrylic", " through clear").replace(" in sight", "")

    @property
    def ink(self) -> str:
        """Colour of words on it: dark or light, whichever is told from it better (contrast as WCAG 2.1 defines it)."""
        if self.zone == Zone.NOTHING:
            return NOTHING_INK
        own = _luminance(self.colour)
        return max((INK, PAPER), key=lambda ink: abs(np.log((own + 0.05) / (_luminance(ink) + 0.05))))


def _luminance(colour: str) -> float:
    """Relative luminance of a colour, 0 to 1 (WCAG 2.1, from sRGB)."""
    part = np.array(rgb(colour)) / 255.0
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    return float(linear @ np.array([0.2126, 0.7152, 0.0722]))


def tones(zones: Zones, noun: str) -> tuple[Tone, ...]:
    """The tones of all that shows in a room, the most exposed and the most first; nothing is always among them."""
    found = []
    for zone in sorted(Zone, reverse=True):
        own = zones.count[zones.zone == zone]
        if zone == Zone.NOTHING:
            found.append(Tone(zone, 0, 0, NOTHING_COLOUR, noun))
        elif zone in _PART and len(own):
            found.append(Tone(zone, 0, 0, _PART[zone], noun))
        elif len(own):
            limits = _limits(int(own.max()))
            colours = _ramp(RAMPS[_KIND[zone]], len(limits))
            steps = [Tone(zone, *limit, colour, noun) for limit, colour in zip(limits, colours, strict=True)]
            found.extend(reversed(steps))
    return tuple(found)


def _limits(most: int) -> list[tuple[int, int]]:
    """Numbers that share a colour: each its own while they are few, else 1, 2–5, 6–10, 11–20 and so on to the most."""
    if most <= _SINGLY:
        return [(number, number) for number in range(1, most + 1)]
    ends = [step for step in _STEPS if step < most] + [most]
    return [(low + 1, high) for low, high in pairwise([0, *ends])]


def _ramp(anchors: tuple[str, ...], count: int) -> list[str]:
    at = np.linspace(0.0, 1.0, count) if count > 1 else np.array([0.5])
    steps = np.linspace(0.0, 1.0, len(anchors))
    values = np.array([rgb(anchor) for anchor in anchors], float)
    channels = [np.interp(at, steps, values[:, channel]) for channel in range(3)]
    return ["#{:02x}{:02x}{:02x}".format(*np.rint(one).astype(int)) for one in zip(*channels, strict=True)]


def tone_numbers(zones: Zones, known: tuple[Tone, ...]) -> Whole:
    """Which of the known tones each place has."""
    found = np.full(zones.zone.shape, len(known) - 1, np.int64)
    for index, tone in enumerate(known):
        found[(zones.zone == tone.zone) & (zones.count >= tone.least) & (zones.count <= tone.most)] = index
    return found


def in_tones(numbers: Whole, known: tuple[Tone, ...]) -> NDArray[np.uint8]:
    """Colours (…, 3) of tones by number."""
    return np.array([rgb(tone.colour) for tone in known], np.uint8)[numbers]


def paint_zones(sheet: Sheet, numbers: Whole, known: tuple[Tone, ...], left: int, low: int) -> Whole:
    """Paint tones by number (w, 2·h), twice as fine upwards, so that borders are smooth, from a corner of the sheet on.

    Returns the tone of each pixel (h, w), first row below.
    """
    fine = in_tones(numbers, known).astype(np.uint16)
    mixed = ((fine[:, ::2] + fine[:, 1::2] + 1) // 2).astype(np.uint8)
    image(sheet, np.ascontiguousarray(mixed.transpose(1, 0, 2)[::-1]), left, low)
    return np.asarray(numbers[:, ::2].T)


def draw_room_key(sheet: Sheet, known: tuple[Tone, ...], box: Extent) -> None:
    """Draw what the colours mean, kind by kind along a row, and in a second where one has not the room."""
    em = sheet.em
    x, y = box[0], box[3] - 1.3 * em
    for zone in sorted({tone.zone for tone in known}, reverse=True):
        own = [tone for tone in reversed(known) if tone.zone == zone]
        name = _NAMES[zone]
        fields = [max(1.7 * em, text_width(sheet, tone.number, 0.75) + 0.6 * em) for tone in own]
        wide = max(sum(fields), text_width(sheet, name, _SMALL))
        if x + wide > box[2] and x > box[0]:
            x, y = box[0], y - 3.6 * em
        write(sheet, (x, y), name, size=_SMALL, colour=QUIET, upright="baseline")
        left = x
        for tone, field in zip(own, fields, strict=True):
            swatch = (left, y - 1.75 * em, left + field, y - 0.5 * em)
            fill_area(sheet, [box_loop(swatch)], tone.colour, edge=FAINT)
            if tone.least:
                spot = (left + field / 2.0, y - 1.125 * em)
                write(sheet, spot, tone.number, size=0.75, colour=tone.ink, across="center", upright="center")
            left += field
        x += wide + 1.8 * em


def key_rows_needed(sheet: Sheet, known: tuple[Tone, ...], wide: float) -> int:
    """How many rows :func:`draw_room_key` takes in a width [px]."""
    em, x, rows = sheet.em, 0.0, 1
    for zone in sorted({tone.zone for tone in known}, reverse=True):
        own = [tone for tone in known if tone.zone == zone]
        name = _NAMES[zone]
        fields = sum(max(1.7 * em, text_width(sheet, tone.number, 0.75) + 0.6 * em) for tone in own)
        each = max(fields, text_width(sheet, name, _SMALL))
        if x + each > wide and x > 0.0:
            x, rows = 0.0, rows + 1
        x += each + 1.8 * em
    return rows
