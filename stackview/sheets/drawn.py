"""What is drawn of a filled sheet: every cut of every part where it lies, and what the sheet itself shows."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from stackview.arrays import Floats
from stackview.curves.arcs import Path, cos_sin, polygon
from stackview.description.outline import Outline
from stackview.sheets.layout import FilledSheet, LaidPart
from stackview.sheets.usable import face_of, zones_of
from stackview.shop.drawn_cuts import DrawnCut, drawn_cuts
from stackview.shop.sheet_lines import MARGIN_LAYER, SHEET_LAYER, ZONE_LAYER, SheetLines

_TALLEST, _SMALLEST = 8.0, 1.5
"""Heights of letters of names [mm]."""
_WIDE = 0.75
"""Width of a letter over the height of its capitals, on the safe side."""
_ROUGH, _CLEAR = 0.1, 0.3
"""How near facets come to curves here, and how far names stay off lines [mm]."""
_ARROW = (0.18, 0.02)
"""Greatest length of the grain's arrow, and of its heads, as shares of the sheet's longer side."""


@dataclass(frozen=True, slots=True)
class NamePlace:
    """Where a part's name stands: the middle and radius of the largest circle that nothing else needs [mm]."""

    words: tuple[str, ...]
    x: float
    y: float
    radius: float


def cuts_of_sheet(filled: FilledSheet) -> tuple[DrawnCut, ...]:
    """Every cut of every part where it lies; what is cut in an opening's waste first, outlines last of all."""
    inner = [one for one in filled.parts if one.inside is not None]
    outer = [one for one in filled.parts if one.inside is None]
    every = [cut for one in (*inner, *outer) for cut in _cuts_of(one)]
    first = [cut for cut in every if not _is_outline(cut)]
    return (*first, *(cut for cut in every if _is_outline(cut)))


def _cuts_of(one: LaidPart) -> list[DrawnCut]:
    return [
        replace(cut, paths=tuple(one.laid(path) for path in cut.paths)) for cut in drawn_cuts(one.part.layer)
    ]


def _is_outline(cut: DrawnCut) -> bool:
    return isinstance(cut.of, Outline)


def sheet_lines(filled: FilledSheet) -> SheetLines:
    """The sheet's own edge, its margin, its zones, the way of its grain, and the names of its parts."""
    sheet = filled.sheet
    within = face_of(sheet).buffer(-sheet.margin, join_style="mitre")
    curves: dict[str, tuple[Path, ...]] = {SHEET_LAYER: (sheet.path,)}
    if sheet.margin > 0.0:
        parts = shapely.orient_polygons(shapely.get_parts(within))
        curves[MARGIN_LAYER] = tuple(_path(shapely.get_coordinates(part.exterior)[:-1]) for part in parts)
    if sheet.zones:
        curves[ZONE_LAYER] = tuple(zone.path for zone in sheet.zones)
    names = [
        (line, (place.x, place.y + (0.5 * (len(place.words) - 1) - k) * 1.6 * tall), tall)
        for place in name_places(filled)
        for tall in (letters_tall(place.words, place.radius),)
        for k, line in enumerate(place.words)
    ]
    return SheetLines(curves, grain_arrow(filled), tuple(names))


def _path(corners: Floats) -> Path:
    return Path(np.column_stack((corners, np.zeros(len(corners)))))


def name_places(filled: FilledSheet) -> tuple[NamePlace, ...]:
    """Where each part's number and name find room: between its cuts, and beside parts in its openings."""
    places = []
    for k, one in enumerate(filled.parts):
        lines = [shapely.LinearRing(polygon(path, _ROUGH)) for cut in _cuts_of(one) for path in cut.paths]
        inner = [
            shapely.Polygon(polygon(other.outline, _ROUGH)) for other in filled.parts if other.inside == k
        ]
        shape = shapely.Polygon(polygon(one.outline, _ROUGH))
        taken = shapely.union_all([*(line.buffer(_CLEAR) for line in lines), *inner])
        circle = shapely.maximum_inscribed_circle(shapely.difference(shape, taken), _CLEAR)
        (x, y), radius = circle.coords[0], float(circle.length)
        words = (str(one.part.number), *_title_lines(one.part.title))
        words += ("underside up",) if one.part.underside_up else ()
        if letters_tall(words, radius) < _SMALLEST:
            words = (words[0],)
        places.append(NamePlace(words, float(x), float(y), radius))
    return tuple(places)


def _title_lines(title: str) -> tuple[str, ...]:
    """A title over up to three lines."""
    lines = [""]
    for word in title.split(" "):
        if lines[-1] and len(lines[-1]) + len(word) >= 12 and len(lines) < 3:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return tuple(lines)


def letters_tall(words: Sequence[str], radius: float) -> float:
    """How tall capitals may be so that lines of words stand within a circle [mm]."""
    wide = 0.5 * _WIDE * max(map(len, words))
    high = 0.5 * 1.6 * len(words)
    return float(min(0.92 * radius / np.hypot(wide, high), _TALLEST))


def grain_arrow(filled: FilledSheet) -> tuple[Floats, ...]:
    """An arrow with two heads along the grain, where parts leave most room for it; none without a grain."""
    sheet = filled.sheet
    if not sheet.material.is_figured:
        return ()
    cos, sin = cos_sin(sheet.grain - 90.0)
    along, across = np.array((cos, sin)), np.array((-sin, cos))
    long, head = (share * max(sheet.size) for share in _ARROW)
    taken = shapely.union_all([shapely.Polygon(polygon(one.outline, _ROUGH)) for one in filled.parts])
    free = shapely.difference(face_of(sheet), shapely.union_all([taken, *zones_of(sheet)]))
    middle = np.array(shapely.maximum_inscribed_circle(free, 1.0).coords[0])
    line = shapely.LineString((middle - 0.5 * long * along, middle + 0.5 * long * along))
    pieces = shapely.get_parts(shapely.intersection(line, free))
    clear = min(pieces, key=lambda piece: piece.distance(shapely.Point(middle)))
    places = shapely.get_coordinates(clear)
    # clear of what bounds it
    start, end = (0.95 * places[a] + 0.05 * places[b] for a, b in ((0, -1), (-1, 0)))
    lines = [np.array((start, end))]
    for tip, way in ((start, along), (end, -along)):
        lines += [np.array((tip, tip + head * way + side * 0.5 * head * across)) for side in (1.0, -1.0)]
    return tuple(lines)
