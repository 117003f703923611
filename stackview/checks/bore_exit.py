"""Where a cable comes out of its bore: into an opening or a recess, wide enough for all of it.

Seen from above, the bore is a bar. The cable's middle can be where bar and openings together are
free by the cable's radius; it comes out where that leads from the bore's mouth to a place where the
opening alone is as wide as the cable. A bore that a recess's floor cuts at ``o`` below its top is
open there by the chord 2√(R² − (R − o)²), which has to be as wide as the cable.
"""

from dataclasses import dataclass
from math import sqrt

import shapely
from shapely.geometry.base import BaseGeometry

from stackview.checks.facets import TO_PASS
from stackview.checks.voids import bore_bar
from stackview.curves.arcs import polygon
from stackview.description.lamp import Bore, Layer
from stackview.description.outline import around, path_of

_SLACK = 0.02
"""What facets take of an opening that is as wide as the cable [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Exit:
    """Where a cable leaves its bore: what it takes up, seen from above in the layer's frame, and the height in it [mm]."""

    area: BaseGeometry
    height: float


def exits(layer: Layer, bore: Bore, cable: float, taken: BaseGeometry | None = None) -> list[Exit]:
    """Every place where a cable of a diameter [mm] leaves the bore upwards or downwards.

    ``taken`` is what other parts take of the openings at the bore's height, in the layer's frame.
    """
    bar = bore_bar(layer, bore)
    if bar is None:
        return []
    radius = min(cable, bore.diameter) / 2.0
    shrunk = max(radius - _SLACK, 0.0)
    channel = shapely.Polygon(polygon(bar.path, TO_PASS))
    found = []
    for hole, height in _openings(layer, bore, min(cable, bore.diameter)):
        free = shapely.union(channel, hole)
        left = hole
        if taken is not None:
            free, left = free.difference(taken), left.difference(taken)
        mouth = _mouth(channel, free.buffer(-shrunk))
        places = [part.intersection(left.buffer(-shrunk)) for part in mouth]
        out = shapely.union_all([place for place in places if place.area > 0.0])
        if not out.is_empty:
            found.append(Exit(out.buffer(shrunk / 2.0), height))
    return found


def _mouth(channel: BaseGeometry, free: BaseGeometry) -> list[BaseGeometry]:
    """The parts of what is free that begin at the bore's outer end."""
    corners = shapely.get_coordinates(channel)[:-1]
    one, other = corners[(corners**2).sum(axis=1).argsort()[-2:]]
    mouth = shapely.Point((one + other) / 2.0)
    within = float(((one - other) ** 2).sum() ** 0.5)  # the bore's own diameter
    return [part for part in shapely.get_parts(free) if part.distance(mouth) < within]


def _openings(layer: Layer, bore: Bore, cable: float) -> list[tuple[BaseGeometry, float]]:
    """Holes that the bore may come out in, and the height in the layer at which it does."""
    found: list[tuple[BaseGeometry, float]] = [
        (shapely.Polygon(polygon(hole, TO_PASS)), bore.height)
        for one in layer.openings
        for hole in around(path_of(one.outline, "opening"), one.around)
    ]
    for recess in layer.recesses:
        low, high = layer.heights_of_cut(recess.face, recess.depth)
        # The cable lies on the floor that it comes out over, or in the bore that opens above that.
        lies = min(cable, recess.depth) / 2.0
        height = max(bore.height, low + lies) if recess.face == "top" else min(bore.height, high - lies)
        over = bore.diameter / 2.0 + (bore.height - low if recess.face == "top" else high - bore.height)
        if chord(bore.diameter, over) >= cable - 1e-9:
            found.append((shapely.Polygon(polygon(path_of(recess.outline, "recess"), TO_PASS)), height))
    return found


def chord(diameter: float, over: float) -> float:
    """Width of the slot [mm] that a floor cuts into a bore whose far side stands ``over`` it.

    >>> round(chord(6.0, 0.3), 3), chord(6.0, 3.0), chord(6.0, 5.0), chord(6.0, -1.0)
    (2.615, 6.0, 6.0, 0.0)
    """
    if over <= 0.0:
        return 0.0
    radius = diameter / 2.0
    return diameter if over >= radius else 2.0 * sqrt(radius**2 - (radius - over) ** 2)
