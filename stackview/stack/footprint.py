"""The level faces of a layer, seen from above and from below: what can carry and what can rest.

Areas are facetted and only say whether two faces overlap at all; whether a plate fits a
recess is decided on the exact curves, in :mod:`stackview.stack.seating`.
"""

from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from stackview.curves.arcs import Path, polygon, turned
from stackview.description.lamp import FaceSide, Layer, Recess
from stackview.description.outline import around, path_of

_FACETS = 0.02
"""Chord error of footprints [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Level:
    """One level area of a layer: its height in the layer's own frame, and its area."""

    height: float
    area: BaseGeometry
    recess: Recess | None
    """The recess whose floor this is; None for the face itself."""


def levels(layer: Layer, face: FaceSide) -> tuple[Level, ...]:
    """The face of a layer and the floors of the recesses in it, turned as the layer stands."""
    whole = shapely.union_all([_polygon(piece) for piece in pieces(layer)])
    for opening in layer.openings:
        for hole in around(path_of(opening.outline), opening.around):
            whole = whole.difference(_polygon(turned(hole, layer.turn)))
    rest = whole
    found = []
    flat, inwards = (layer.thickness, -1.0) if face == "top" else (0.0, 1.0)
    # A deeper recess within a wider one takes its floor.
    for recess in sorted((r for r in layer.recesses if r.face == face), key=lambda r: -r.depth):
        pocket = _polygon(pocket_of(layer, recess))
        found.append(Level(flat + inwards * recess.depth, rest.intersection(pocket), recess))
        rest = rest.difference(pocket)
    return (Level(flat, rest, None), *found)


def pieces(layer: Layer) -> tuple[Path, ...]:
    """The outer edges of a layer's pieces as it stands, turned."""
    return tuple(turned(piece, layer.turn) for piece in around(path_of(layer.outline), layer.around))


def pocket_of(layer: Layer, recess: Recess) -> Path:
    """The edge of a recess as its layer stands, turned."""
    return turned(path_of(recess.outline), layer.turn)


def _polygon(path: Path) -> BaseGeometry:
    return shapely.Polygon(polygon(path, _FACETS))
