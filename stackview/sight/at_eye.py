"""Quick answer for one eye anywhere: what each light point shows, by silhouettes found beforehand.

Light points stay where they are while an eye moves, so that the silhouettes seen from each of
them are worked out once and sorted into bins of bearing. For an eye only the edges in one bin
a point are looked at. The edges, their order among bearings and their tangents are those of
:mod:`stackview.sight.crossings`, and the light through clear acrylic is that of
:mod:`stackview.sight.beams`, so that the answer is that of :func:`stackview.sight.eyes.look_from_eyes`.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import read_only
from stackview.description.lamp import Surface
from stackview.light.points import LightPoints
from stackview.sight.bands import HIDDEN, each_run, kinds_of, regions, taken_at
from stackview.sight.beams import Beams, traced
from stackview.sight.crossings import RADIAL, TURN, Silhouettes, bearings_of, own_tangent, silhouettes
from stackview.sight.glazed_eyes import glazed_at, true_kinds
from stackview.sight.scene import Scene
from stackview.sight.surface import behind_surface

_BINS = 360
"""Bins of bearing all round: about one edge in three that is looked at is then crossed."""


@dataclass(frozen=True, slots=True, eq=False)
class EyeIndex:
    """Every light point's silhouette edges, sorted into bins of bearing. Arrays are read-only.

    places, directions : (n, 3) of the light points, a hair in front of their faces [mm]
    first, last : (s,) bearings at which an edge begins and ends counter-clockwise [rad]
    sine, cosine : (s,) factors of its tangent; low, high : (s,) limits of it [tangent], infinite
    but for edges that run along the half-plane; gain : (s,) packed change on passing it upwards
    nadir : (n,) packed count straight down
    begin : (n · _BINS + 1,) where each bin's share of ``edges`` begins, point by point; edges : (k,)
    beams : the light that leaves through clear acrylic
    """

    places: NDArray[np.float64]
    directions: NDArray[np.float64]
    first: NDArray[np.float64]
    last: NDArray[np.float64]
    sine: NDArray[np.float64]
    cosine: NDArray[np.float64]
    low: NDArray[np.float64]
    high: NDArray[np.float64]
    gain: NDArray[np.int64]
    nadir: NDArray[np.int64]
    begin: NDArray[np.int64]
    edges: NDArray[np.int32]
    beams: Beams

    def __post_init__(self) -> None:
        read_only(getattr(self, name) for name in self.__slots__)

    def __len__(self) -> int:
        return len(self.places)


def eye_index(
    scene: Scene,
    points: LightPoints,
    *,
    beams: Beams | None = None,
    progress: Callable[[int], None] | None = None,
) -> EyeIndex:
    """Find and sort the silhouettes of all light points.

    ``beams`` are those of the scene and the points, if they have been traced already.
    ``progress`` is called with the number of light points done since the last call.
    """
    places, looked = taken_at(points), regions(scene, points)

    def one(run: range) -> tuple[Silhouettes, NDArray[np.int64]]:
        seen = silhouettes(scene, looked(run), places[run])
        return seen, seen.place + run.start

    columns: list[tuple[NDArray[np.generic], ...]] = []
    for run, (seen, place) in each_run(one, len(points)):
        columns.append((place, *_columns(seen), seen.nadir))
        if progress is not None:
            progress(len(run))
    if not columns:
        none = np.zeros(0)
        columns.append((none.astype(np.int64),) + (none,) * 6 + (none.astype(np.int64),) * 2)
    place, first, last, sine, cosine, low, high, gain, nadir = (
        np.concatenate([each[k] for each in columns]) for k in range(9)
    )
    begin, edges = _binned(place.astype(np.int64), _bin(first), _bin(last), last < first, len(points))
    return EyeIndex(
        places,
        np.array(points.directions),
        first,
        last,
        sine,
        cosine,
        low,
        high,
        gain.astype(np.int64),
        nadir.astype(np.int64),
        begin,
        edges,
        traced(scene, points) if beams is None else beams,
    )


def _columns(seen: Silhouettes) -> tuple[NDArray[np.generic], ...]:
    """First and last bearing, sine and cosine factors, limits and gain of each edge."""
    tail, head = seen.bearing[seen.tail], seen.bearing[seen.head]
    forward = seen.turn > 0
    low, high = np.full(len(tail), -np.inf), np.full(len(tail), np.inf)
    along = np.flatnonzero(np.abs(seen.turn) < RADIAL)
    ends = np.stack([own_tangent(end) for end in seen.ends(along)])
    low[along], high[along] = ends.min(axis=0), ends.max(axis=0)
    return (
        np.where(forward, tail, head),
        np.where(forward, head, tail),
        *seen.planes(np.arange(len(tail))),
        low,
        high,
        seen.gain,
    )


def _bin(bearing: NDArray[np.float64]) -> NDArray[np.int64]:
    return np.minimum((bearing * (_BINS / TURN)).astype(np.int64), _BINS - 1)


def _binned(
    place: NDArray[np.int64],
    first: NDArray[np.int64],
    last: NDArray[np.int64],
    wraps: NDArray[np.bool_],
    places: int,
) -> tuple[NDArray[np.int64], NDArray[np.int32]]:
    """Each edge into every bin from its first to its last: where the bins begin, and their edges."""
    # A bearing in the bin of the last end may still lie before it, so that bin counts too.
    count = np.minimum(last - first + 1 + _BINS * wraps, _BINS)
    edge = np.repeat(np.arange(len(place)), count)
    step = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count)
    key = place[edge] * _BINS + (first[edge] + step) % _BINS
    order = np.argsort(key, kind="stable")
    begin = np.searchsorted(key[order], np.arange(places * _BINS + 1))
    return begin, edge[order].astype(np.int32)


def kinds_at(index: EyeIndex, eye: NDArray[np.float64], surface: Surface | None) -> NDArray[np.int8]:
    """Kind of each light point (n,) as seen from ``eye`` (3,) [mm]: :class:`Kind` or HIDDEN."""
    offset = eye - index.places
    asked = (offset * index.directions).sum(axis=1) > 0
    asked &= ~behind_surface(index.places, eye[None], surface)
    point = np.flatnonzero(asked)
    kind = np.full(len(index), HIDDEN, dtype=np.int8)
    if len(point):
        kind[point] = kinds_of(_counts(index, point, offset[point]))
    return true_kinds(kind, glazed_at(index.beams, eye, surface))


def _counts(index: EyeIndex, point: NDArray[np.int64], offset: NDArray[np.float64]) -> NDArray[np.int64]:
    """Packed count met by the lines from points (q,) along ``offset`` (q, 3)."""
    bearing = bearings_of(offset)
    tangent = offset[:, 2] / np.maximum(np.hypot(offset[:, 0], offset[:, 1]), 1e-300)
    slot = point * _BINS + _bin(bearing)
    start, count = index.begin[slot], index.begin[slot + 1] - index.begin[slot]
    line = np.repeat(np.arange(len(point)), count)
    at = np.arange(len(line)) + np.repeat(start - np.cumsum(count) + count, count)
    edge = index.edges[at]
    first, last, here = index.first[edge], index.last[edge], bearing[line]
    crossed = np.where(
        last < first, (here >= first) | (here < last), (here >= first) & (here < last)
    ).nonzero()[0]
    edge, line = edge[crossed], line[crossed]
    # A plane that is vertical to rounding gives inf or nan, mended by the edge's own ends.
    with np.errstate(invalid="ignore", over="ignore"):
        crossing = index.sine[edge] * np.sin(bearing)[line] + index.cosine[edge] * np.cos(bearing)[line]
    radial = np.flatnonzero(np.isfinite(index.low[edge]))
    if len(radial):
        ends = index.low[edge[radial]], index.high[edge[radial]]
        kept = np.clip(crossing[radial], *ends)
        crossing[radial] = np.where(np.isnan(kept), np.mean(ends, axis=0), kept)
    under = (crossing < tangent[line]).nonzero()[0]
    # Sums of packed counts stay below 2^53, where floating point is exact.
    total = np.bincount(line[under], weights=index.gain[edge[under]].astype(float), minlength=len(point))
    return np.rint(total).astype(np.int64) + index.nadir[point]
