"""Whether a layout keeps what it promises, measured again on finer facets and by other means than it was made with."""

import itertools
from collections.abc import Sequence

import shapely

from stackview.curves.arcs import Path, polygon
from stackview.description.outline import around, path_of
from stackview.errors import StackviewError
from stackview.sheets.layout import FilledSheet, LaidPart
from stackview.sheets.usable import face_of, zones_of

_FINE = 1e-3
"""How near facets come to the curves here [mm]."""
_GIVEN_AWAY = 5e-3
"""What facets and an exact fit may take off a gap or a margin [mm]."""
_GRAIN = 1e-6


def check_filled_sheet(filled: FilledSheet, gap: float) -> None:
    """Hold every part of a sheet against all others, its edge, its zones and its grain, by exact distances.

    Raises StackviewError for anything that lies nearer than the ``gap`` or the margin [mm], less 0.005 mm:
    a layout like that is never given out.
    """
    face, zones = face_of(filled.sheet), zones_of(filled.sheet)
    wide = face.buffer(_GIVEN_AWAY, join_style="mitre")
    bodies = [_body(one) for one in filled.parts]
    for one, body in zip(filled.parts, bodies, strict=True):
        if not wide.contains(body) or face.exterior.distance(body) < filled.sheet.margin - _GIVEN_AWAY:
            _refuse(filled, f"{one.part.title} stands over the margin")
        for zone in zones:
            if zone.distance(body) < gap - _GIVEN_AWAY:
                _refuse(filled, f"{one.part.title} comes too near to a zone")
        if not runs_with_grain(filled, one):
            _refuse(filled, f"the grain of {one.part.title} does not run along the sheet's")
    for (one, first), (other, second) in itertools.combinations(zip(filled.parts, bodies, strict=True), 2):
        if first.distance(second) < gap - _GIVEN_AWAY:
            _refuse(filled, f"{one.part.title} and {other.part.title} come too near to each other")


def least_gap(parts: Sequence[LaidPart]) -> float:
    """The least distance between any two parts [mm]; infinite for fewer than two."""
    bodies = [_body(one) for one in parts]
    return min((float(a.distance(b)) for a, b in itertools.combinations(bodies, 2)), default=float("inf"))


def runs_with_grain(filled: FilledSheet, one: LaidPart) -> bool:
    """Whether a part's grain runs along the sheet's, either way."""
    if one.part.grain is None:
        return True
    apart = (one.part.grain + one.turn - filled.sheet.grain) % 180.0
    return min(apart, 180.0 - apart) <= _GRAIN


def _body(one: LaidPart) -> shapely.Geometry:
    """The part itself: what its edge encloses, without its openings."""
    holes = [
        one.laid(path)
        for opening in one.part.layer.openings
        for path in around(path_of(opening.outline, "opening"), opening.around)
    ]
    whole = shapely.Polygon(_facets(one.outline))
    return shapely.difference(whole, shapely.union_all([shapely.Polygon(_facets(path)) for path in holes]))


def _facets(path: Path) -> object:
    return polygon(path, _FINE)


def _refuse(filled: FilledSheet, what: str) -> None:
    raise StackviewError(
        f"{filled.words}: {what}; this is a mistake in stackview, and nothing was written: "
        "please report it with the lamp's file"
    )
