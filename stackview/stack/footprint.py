"""The level faces of a layer, seen from above and from below: what can carry and what can rest.

Areas are facetted and only say whether two faces overlap at all; whether a plate fits a
recess is decided on the exact curves, in :mod:`stackview.stack.seating`. Areas do not depend on
heights, so that they are kept for variants that are thicker or deeper.
"""

from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from stackview.by_value import by_value, mark
from stackview.curves.arcs import Path, polygon, turned
from stackview.description.lamp import FaceSide, Layer, Recess
from stackview.description.outline import Around, Outline, around, path_of

_FACETS = 0.02
"""Chord error of footprints [mm]."""
_KEPT = 8_000_000
"""Edges and areas kept for further variants of a lamp, each [bytes]."""


@dataclass(frozen=True, slots=True, eq=False)
class LevelArea:
    """One level area of a layer: its height in the layer's own frame, and its area."""

    height: float
    area: BaseGeometry
    recess: Recess | None
    """The recess whose floor this is; None for the face itself."""


def levels(layer: Layer, face: FaceSide) -> tuple[LevelArea, ...]:
    """The face of a layer and the floors of the recesses in it, turned as the layer stands."""
    flat, inwards = layer.height_of(face), -1.0 if face == "top" else 1.0
    # A deeper recess within a wider one takes its floor.
    recesses = sorted((r for r in layer.recesses if r.face == face), key=lambda r: -r.depth)
    rest, *floors = _areas(
        layer.outline,
        layer.around,
        tuple((opening.outline, opening.around) for opening in layer.openings),
        tuple(recess.outline for recess in recesses),
        layer.turn,
    )
    return (
        LevelArea(flat, rest, None),
        *(
            LevelArea(flat + inwards * recess.depth, floor, recess)
            for recess, floor in zip(recesses, floors, strict=True)
        ),
    )


def _bytes(areas: tuple[BaseGeometry, ...]) -> int:
    return int(24 * shapely.get_num_coordinates(areas).sum())


@by_value(_KEPT, size=_bytes)
def _areas(
    outline: Outline,
    copies: Around | None,
    openings: tuple[tuple[Outline, Around | None], ...],
    recesses: tuple[Outline, ...],
    turn: float,
) -> tuple[BaseGeometry, ...]:
    """What the openings and recesses leave of a face, then the floors of the recesses, the deepest first."""
    whole = shapely.union_all([_polygon(piece) for piece in _edges(outline, copies, turn)])
    for opening, holes in openings:
        for hole in around(path_of(opening), holes):
            for copy in around(hole, copies):
                whole = whole.difference(_polygon(turned(copy, turn)))
    rest = whole
    floors = []
    for recess in recesses:
        pocket = _polygon(*_edges(recess, None, turn))
        floors.append(rest.intersection(pocket))
        rest = rest.difference(pocket)
    return (rest, *floors)


@by_value(4_000_000, key=lambda one, other: (mark(one), mark(other)))
def shared_area(one: BaseGeometry, other: BaseGeometry) -> float:
    """Area that two level faces share [mm²]."""
    return float(one.intersection(other).area)


def pieces(layer: Layer) -> tuple[Path, ...]:
    """The outer edges of a layer's pieces as it stands, turned."""
    return _edges(layer.outline, layer.around, layer.turn)


def pocket_of(layer: Layer, recess: Recess) -> Path:
    """The edge of a recess as its layer stands, turned."""
    (edge,) = _edges(recess.outline, None, layer.turn)
    return edge


@by_value(_KEPT, size=lambda paths: sum(path.vertices.nbytes for path in paths))
def _edges(outline: Outline, copies: Around | None, turn: float) -> tuple[Path, ...]:
    return tuple(turned(piece, turn) for piece in around(path_of(outline), copies))


def _polygon(path: Path) -> BaseGeometry:
    return shapely.Polygon(polygon(path, _FACETS))
