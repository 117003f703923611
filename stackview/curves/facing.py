"""Which part of a closed curve faces a way: where a line outwards from the origin leaves it."""

from dataclasses import dataclass
from math import hypot

import numpy as np

from stackview.curves.arcs import Path, cos_sin, farthest, pieces_between, pieces_of
from stackview.curves.crossing import crossings


@dataclass(frozen=True, slots=True)
class Facing:
    """The place where a line outwards leaves a curve.

    ``at`` is the place [mm] and ``out`` the unit vector square to the curve there, outwards.
    ``radius`` [mm] is that of the arc met (negative where it is hollow), None on a straight
    piece; ``before`` and ``after`` [mm] are how far the piece goes on to either side.
    """

    at: tuple[float, float]
    out: tuple[float, float]
    radius: float | None
    before: float
    after: float


def facing(path: Path, bearing: float) -> Facing | None:
    """The part of ``path`` that the line from the origin towards a bearing [°] leaves last.

    Bearings run counter-clockwise from the front (−y). None where the line does not meet the
    curve. Through a corner either side may be given.

    >>> square = Path(np.array([(5.0, -2.0, 0.0), (5.0, 2.0, 0.0), (-5.0, 2.0, 0.0), (-5.0, -2.0, 0.0)]))
    >>> met = facing(square, 90.0)
    >>> met.at, met.out, met.radius, met.before, met.after
    ((5.0, 0.0), (1.0, 0.0), None, 2.0, 2.0)
    """
    p = pieces_of(path)
    way = np.array(cos_sin(bearing - 90.0))
    # Twice as far as the curve reaches: what grazes its farthest point is well within.
    line = pieces_between(np.zeros((1, 2)), 2.0 * farthest(path) * way[None], np.zeros(1))
    met = crossings(line, p)
    if not len(met.u):
        return None
    last = int(np.argmax(met.u))
    piece, share = int(met.j[last]), float(met.v[last])
    x, y = p.at(np.array([piece]), np.array([share]))[0].tolist()
    if p.arc[piece]:
        radius, sweep = float(p.radius[piece]), float(p.sweep[piece])
        side = 1.0 if sweep > 0.0 else -1.0
        out = side * (np.array([x, y]) - p.centre[piece]) / radius
        size = radius * abs(sweep)
        curved: float | None = side * radius
    else:
        along = p.end[piece] - p.start[piece]
        size = hypot(*along)
        out, curved = np.array([along[1], -along[0]]) / size, None
    # adding 0 turns -0.0 into 0.0
    return Facing(
        (x, y), (float(out[0]) + 0.0, float(out[1]) + 0.0), curved, share * size, (1.0 - share) * size
    )
