"""Which light points and open bands a section drawing shows, and where their bounding rays run.

A light point is drawn where it falls square onto the cut, and its bands are those of its own
upright plane at the same bearing; the two planes are the same for a point in the cut and close
to each other for one near it. Which points were taken is told with the drawing.

Light through clear acrylic bends, and mostly out of the cut: glazed points are counted, but no
rays are drawn for them.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.description.lamp import Surface
from stackview.sight.bands import POLE, Bands, Kind, taken_at
from stackview.sight.scene import Scene
from stackview.sight.summary import Sightlines

IN_PLANE = 5.0
"""Light points within this angle of the half-plane, about the axis, are drawn in it [°]."""
NEAR_AXIS = 3.0
"""So are points this near to the cutting plane, whatever their angle: a face's own size [mm]."""


@dataclass(frozen=True, slots=True)
class Wedge:
    """One open band of one light point, standing for its gap.

    ``start`` is the light point, ``low_at`` and ``high_at`` the edges that bound it (None for its
    own back and for straight up or down), all as (across, height) [mm]; elevations in [°].
    """

    kind: Kind
    start: tuple[float, float]
    low: float
    high: float
    low_edge: str
    high_edge: str
    low_at: tuple[float, float] | None
    high_at: tuple[float, float] | None
    alike: int
    """Number of other light points that show between edges of the same two parts at this bearing."""
    reach: tuple[float, float]
    """Lowest and highest elevation at which any of them all does [°]."""


@dataclass(frozen=True, slots=True, eq=False)
class SectionRays:
    """What shows towards one bearing, as far as a drawing can hold it.

    near : (k, 2) light points drawn, as (across, height) [mm]; off : greatest angle of a drawn
    point from the half-plane [°], or 0 where all stand next to the plane; wedges : one a gap,
    bare first; more : number of gaps left out; showing : number of light points of each class.
    """

    bearing: float
    near: NDArray[np.float64]
    off: float
    wedges: tuple[Wedge, ...]
    more: int
    showing: dict[Kind, int]


def telling_bearing(sightlines: Sightlines) -> float:
    """Find the bearing that shows most bare points, or failing that most points at all [°].

    A bearing in whose cut stands a point of the most open class goes before one where all such are
    aside. Of equals, the one at which they show over the most elevations wins, then the lowest.
    """
    bands = sightlines.bands
    bearings = bands.bearings
    if not len(bands):
        return float(bearings[0]) if len(bearings) else 0.0
    off, aside = angles_off(sightlines, bearings[bands.bearing], bands.point)
    near = (off <= IN_PLANE) | (aside <= NEAR_AXIS)
    worst = bands.kind == bands.kind.min()
    every = np.ones(len(bands), dtype=bool)
    most = worst if (bands.kind[worst] == Kind.BARE).all() else every
    width = np.bincount(bands.bearing[most], (bands.high - bands.low)[most], len(bearings))
    keys = [
        _points_each(bands, worst & near) > 0,
        _points_each(bands, most),
        _points_each(bands, every),
        # Tenths of a degree, so that the facets of a round lamp make no difference.
        np.rint(10.0 * width),
    ]
    return float(bearings[np.lexsort([-key.astype(np.int64) for key in reversed(keys)])[0]])


def _points_each(bands: Bands, mask: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Count the different light points with a band in ``mask`` at each bearing."""
    point, bearing = bands.point[mask], bands.bearing[mask]
    # Bands stand by point, then bearing, so that a point's bands at one bearing are neighbours.
    first = np.ones(len(point), dtype=bool)
    first[1:] = (point[1:] != point[:-1]) | (bearing[1:] != bearing[:-1])
    return np.bincount(bearing[first], minlength=len(bands.bearings))


def angles_off(
    sightlines: Sightlines, bearings: NDArray[np.float64], point: NDArray[np.int32]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Angle of light points from the half-planes at ``bearings`` [°], and distance from their planes [mm]."""
    x, y = sightlines.points.centres[point, :2].T
    sine, cosine = np.sin(np.radians(bearings)), np.cos(np.radians(bearings))
    aside = np.abs(x * cosine + y * sine)
    return np.degrees(np.arctan2(aside, x * sine - y * cosine)), aside


def section_rays(sightlines: Sightlines, bearing: float, most: int) -> SectionRays:
    """Choose what to draw at the computed bearing nearest to ``bearing`` [°], at most ``most`` wedges."""
    bearings = sightlines.bands.bearings
    at = int(np.argmin(np.abs((bearings - bearing + 180.0) % 360.0 - 180.0)))
    own = sightlines.straight.chosen(sightlines.straight.bearing == at)
    every = sightlines.bands.chosen(sightlines.bands.bearing == at)
    points = np.arange(len(sightlines.points), dtype=np.int32)
    off, aside = angles_off(sightlines, np.full(len(points), bearings[at]), points)
    off = np.where(aside <= NEAR_AXIS, 0.0, off)
    drawn = _drawn(own, off)
    wedges, more = _wedges(sightlines, own, drawn, float(bearings[at]), most)
    return SectionRays(
        bearing=float(bearings[at]),
        near=flat(sightlines.points.centres[drawn], float(bearings[at])),
        off=float(off[drawn].max(initial=0.0)),
        wedges=wedges,
        more=more,
        showing={kind: len(np.unique(every.point[every.kind == kind])) for kind in Kind},
    )


def _drawn(own: Bands, off: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Light points next to the cut, and the nearest that show more openly than any of those do."""
    drawn = off <= IN_PLANE
    if not len(own):
        return drawn
    worst = own.kind.min()
    if not (drawn[own.point] & (own.kind == worst)).any():
        candidates = own.point[own.kind == worst]
        nearest = off[candidates].min()
        drawn = drawn.copy()
        drawn[candidates[off[candidates] <= nearest + 1e-6]] = True
    return drawn


def flat(places: NDArray[np.float64], bearing: float) -> NDArray[np.float64]:
    """Places (k, 3) square onto the cut at ``bearing`` [°], as (across, height) (k, 2) [mm]."""
    radians = np.radians(bearing)
    across = places[:, 0] * np.sin(radians) - places[:, 1] * np.cos(radians)
    return np.stack([across, places[:, 2]], axis=1)


def _wedges(
    sightlines: Sightlines, own: Bands, drawn: NDArray[np.bool_], bearing: float, most: int
) -> tuple[tuple[Wedge, ...], int]:
    """For each gap the widest band of a drawn point: best of each class first, then bare before the rest."""
    gap = _gaps(sightlines.scene, own)
    widest: dict[int, int] = {}
    for index in np.flatnonzero(drawn[own.point]).tolist():
        known = widest.get(int(gap[index]))
        if known is None or _width(own, index) > _width(own, known) + 1e-9:
            widest[int(gap[index])] = index
    order = sorted(widest.values(), key=lambda index: (int(own.kind[index]), -_width(own, index)))
    first = [next((index for index in order if own.kind[index] == kind), None) for kind in Kind]
    best = [index for index in first if index is not None]
    chosen = sorted((best + [index for index in order if index not in best])[:most], key=order.index)
    wedges = tuple(_wedge(sightlines, own, index, bearing, own.chosen(gap == gap[index])) for index in chosen)
    return wedges, len(order) - len(chosen)


def _gaps(scene: Scene, own: Bands) -> NDArray[np.int64]:
    """Tell gaps apart by number: one for each class and pair of parts that bound it."""
    # A light point's own back and straight up or down count as parts of their own.
    owner = np.append(scene.solid_of_triangle[scene.left] + 2, [0, 1])
    pair = owner[own.low_edge] * (len(scene.names) + 2) + owner[own.high_edge]
    return np.asarray(pair * len(Kind) + own.kind, np.int64)


def _width(own: Bands, index: int) -> float:
    return float(own.high[index] - own.low[index])


def _wedge(sightlines: Sightlines, own: Bands, index: int, bearing: float, alike: Bands) -> Wedge:
    point = int(own.point[index])
    start = flat(sightlines.points.centres[point : point + 1], bearing)[0]
    place = taken_at(sightlines.points)[point]

    def bound(edge: int) -> tuple[float, float] | None:
        if edge < 0:
            return None
        across, height = edge_in_plane(sightlines.scene, edge, place, bearing)
        return float(start[0]) + across, float(start[1]) + height

    low_edge, high_edge = int(own.low_edge[index]), int(own.high_edge[index])
    return Wedge(
        kind=Kind(int(own.kind[index])),
        start=(float(start[0]), float(start[1])),
        low=float(own.low[index]),
        high=float(own.high[index]),
        low_edge="straight down" if low_edge == POLE else sightlines.names.text(low_edge),
        high_edge="straight up" if high_edge == POLE else sightlines.names.text(high_edge),
        low_at=bound(low_edge),
        high_at=bound(high_edge),
        alike=len(np.unique(alike.point)) - 1,
        reach=(float(alike.low.min()), float(alike.high.max())),
    )


def edge_in_plane(scene: Scene, edge: int, place: NDArray[np.float64], bearing: float) -> tuple[float, float]:
    """Where an edge crosses the upright plane through ``place`` at ``bearing`` [°].

    Returns how far along the bearing and how far up from ``place`` [mm].
    """
    sine, cosine = np.sin(np.radians(bearing)), np.cos(np.radians(bearing))
    tail, head = scene.vertices[scene.tail[edge]] - place, scene.vertices[scene.head[edge]] - place
    off_tail, off_head = tail[0] * cosine + tail[1] * sine, head[0] * cosine + head[1] * sine
    share = off_tail / (off_tail - off_head) if off_tail != off_head else 0.5
    meet = tail + np.clip(share, 0.0, 1.0) * (head - tail)
    return float(meet[0] * sine - meet[1] * cosine), float(meet[2])


def surface_span(surface: Surface | None, bearing: float) -> tuple[float, float] | None:
    """From where to where the cut at ``bearing`` [°] runs over the surface, across from the axis [mm].

    None where there is no surface in the cut.
    """
    if surface is None:
        return None
    way = np.array([np.sin(np.radians(bearing)), -np.cos(np.radians(bearing))])
    at = np.array(surface.at)
    if len(surface.size) == 1:
        # |at + t·way| = r, the two roots of t² + 2t(at·way) + |at|² − r² = 0.
        middle, rest = -float(at @ way), float(at @ way) ** 2 - float(at @ at) + (surface.size[0] / 2.0) ** 2
        return (middle - np.sqrt(rest), middle + np.sqrt(rest)) if rest > 0.0 else None
    low, high = -np.inf, np.inf
    for step, offset, half in zip(way, at, np.array(surface.size) / 2.0, strict=True):
        if abs(step) < 1e-12:
            if abs(offset) >= half:
                return None
            continue
        ends = sorted(((-half - offset) / step, (half - offset) / step))
        low, high = max(low, ends[0]), min(high, ends[1])
    return (float(low), float(high)) if low < high else None
