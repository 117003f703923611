"""Open bands: for each light point and bearing, the elevations at which it is not hidden.

A band is bare, glazed or veiled; whatever lies between bands is hidden. Its ends are exact:
each is the elevation of an edge, of the light point's own back, or straight up or down.
"""

import os
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from enum import IntEnum
from typing import NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole, keep_freed_memory
from stackview.at_once import is_split_off
from stackview.curves.ranges import ranges
from stackview.errors import StackviewError
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.crossings import (
    ASIDE,
    IN_FRONT,
    TURN,
    Silhouettes,
    Spans,
    in_order,
    silhouettes,
    spans,
    tangents,
)
from stackview.sight.edges import Edges, edges_for
from stackview.sight.scene import OPAQUE, VEIL, Scene

POLE = -1
"""Bounding "edge" of a band that reaches straight up or down."""
OWN_BACK = -2
"""Bounding "edge" of a band that ends where the light point turns its own back."""
TRACED = -3
"""Bounding "edge" of a band that begins or ends where traced light through clear acrylic does."""

NARROWEST = 1e-9
"""Bands and the gaps between them narrower than this [rad] are rounding, not openings."""


class Kind(IntEnum):
    """How a light point shows along a line; what is in no band is hidden."""

    BARE = 0
    GLAZED = 1
    VEILED = 2

    @property
    def word(self) -> str:
        """The word shown to the maker."""
        return self.name.lower()


HIDDEN = -1
"""In arrays of :class:`Kind`: the point does not show."""


def kinds_of(count: NDArray[np.int64]) -> NDArray[np.int8]:
    """What packed counts along lines come to: :class:`Kind`, or :data:`HIDDEN` behind something opaque."""
    shows = np.where(count >= VEIL, Kind.VEILED, np.where(count > 0, Kind.GLAZED, Kind.BARE))
    return np.where(count >= OPAQUE, HIDDEN, shows).astype(np.int8)


@dataclass(frozen=True, slots=True, eq=False)
class Bands:
    """Open bands of many light points, ordered by point, then bearing, then elevation.

    bearings : (b,) [°]; point, bearing : (n,) indices; low, high : (n,) elevations [°];
    kind : (n,) of :class:`Kind`; low_edge, high_edge : (n,) scene edge that bounds the band,
    or :data:`POLE` or :data:`OWN_BACK`. All read-only.
    """

    bearings: NDArray[np.float64]
    point: NDArray[np.int32]
    bearing: NDArray[np.int32]
    low: NDArray[np.float64]
    high: NDArray[np.float64]
    kind: NDArray[np.int8]
    low_edge: NDArray[np.int32]
    high_edge: NDArray[np.int32]

    __repr__ = one_line

    def __post_init__(self) -> None:
        for name in self.__slots__:
            getattr(self, name).setflags(write=False)

    def __len__(self) -> int:
        return len(self.low)

    def chosen(self, mask: NDArray[np.bool_]) -> "Bands":
        """The bands where ``mask`` (n,) holds."""
        return Bands(self.bearings, *(getattr(self, name)[mask] for name in self.__slots__[1:]))


MOST_BEARINGS = 36_000
"""Bearings all round that may be asked for: every hundredth of a degree."""


def check_bearings(count: int) -> None:
    """Refuse a number of bearings that cannot be meant, with a StackviewError."""
    if isinstance(count, bool) or not isinstance(count, int | np.integer) or not 1 <= count <= MOST_BEARINGS:
        raise StackviewError(f"bearings {count!r}: a whole number from 1 to {MOST_BEARINGS}, such as 720")


def even_bearings(count: int = 720) -> NDArray[np.float64]:
    """``count`` bearings from 0° evenly all round [°]."""
    return np.arange(count, dtype=np.float64) * (360.0 / count)


def taken_at(points: LightPoints) -> NDArray[np.float64]:
    """Where each light point is looked from: a hair in front of its face (n, 3) [mm]."""
    return points.centres + IN_FRONT * points.directions + ASIDE


def all_bands(
    scene: Scene,
    points: LightPoints,
    bearings: NDArray[np.float64],
    *,
    progress: Callable[[int], None] | None = None,
) -> Bands:
    """Open bands of every light point, from its centre, at the given bearings.

    Parameters
    ----------
    bearings : (b,) sorted [°], within [0, 360)
    progress : called with the number of light points done since the last call
    """
    grid = sorted_bearings(np.radians(bearings))
    found: list[Columns] = []
    looked = regions(scene, points)

    def one(run: range) -> Columns:
        places, edges = taken_at(points)[run], looked(run)
        place, *columns = bands_from(scene, edges, places, points.directions[run], grid)
        return (place + run.start, *columns)

    for run, columns in each_run_at_once(one, len(points)):
        found.append(columns)
        if progress is not None:
            progress(len(run))
    types = (np.int32, np.int32, np.float64, np.float64, np.int8, np.int32, np.int32)
    return Bands(
        np.array(bearings, dtype=np.float64),
        *(
            np.concatenate([columns[index] for columns in found]).astype(dtype, copy=False)
            if found
            else np.zeros(0, dtype)
            for index, dtype in enumerate(types)
        ),
    )


Columns = tuple[NDArray[np.generic], ...]
_Result = TypeVar("_Result")

_RUN = 8
"""Light points worked out together; neighbours on a strip lie in a small box."""


def each_run(
    one: Callable[[range], _Result], count: int, size: int = _RUN
) -> Iterator[tuple[range, _Result]]:
    """``one(run)`` for runs of ``size`` light points, in order."""
    keep_freed_memory()
    for run in _runs(count, size):
        yield run, one(run)


def each_run_at_once(
    one: Callable[[range], _Result], count: int, size: int = _RUN
) -> Iterator[tuple[range, _Result]]:
    """The same on the machine's cores, where a run is thousands of lines.

    numpy lets go of the interpreter's lock in long loops, so that threads do help there; in short ones they take more
    than they give. Results do not depend on their number.
    """
    runs = _runs(count, size)
    workers = 1 if is_split_off() else min(os.cpu_count() or 1, 4, len(runs))
    if workers < 2:
        yield from each_run(one, count, size)
        return
    keep_freed_memory()
    with ThreadPoolExecutor(workers) as pool:
        try:
            yield from zip(runs, pool.map(one, runs), strict=True)
        except BaseException:
            pool.shutdown(cancel_futures=True)
            raise


def _runs(count: int, size: int) -> list[range]:
    return [range(start, min(start + size, count)) for start in range(0, count, size)]


def faces_of(points: LightPoints, run: range) -> Floats:
    """Middles and corners of a run's faces (k, 3) [mm]."""
    return np.vstack([points.centres[run], points.corners[run].reshape(-1, 3)])


def regions(scene: Scene, points: LightPoints) -> Callable[[range], Edges]:
    """The edges that can bound the view from any face of a run; those that matter to no point are looked through once."""
    if not len(points):
        return lambda run: edges_for(scene, faces_of(points, run))
    everywhere = edges_for(scene, faces_of(points, range(len(points))))
    return lambda run: everywhere.narrowed(scene, faces_of(points, run), points.directions[run])


def own_front(
    directions: NDArray[np.float64], sine: NDArray[np.float64], cosine: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Elevations in front of faces that point along ``directions`` (p, 3), per bearing (b,).

    A line at tangent t is in front where A + B·t > 0, with A the horizontal part of the
    direction along the bearing and B its vertical part. Returns the lowest and highest
    tangent, (p, b) each; an empty range has low ≥ high.
    """
    along = np.outer(directions[:, 0], sine) - np.outer(directions[:, 1], cosine)
    up = directions[:, 2:]
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        limit = -along / up
    low = np.where(up > 0, limit, np.where((up == 0) & (along <= 0), np.inf, -np.inf))
    return low, np.where(up < 0, limit, np.inf)


@dataclass(frozen=True, slots=True, eq=False)
class Bearings:
    """Bearings at which bands are asked for: rising [rad, within 0 to 2π), with their sines and cosines, (b,) each.

    even : whether they stand evenly all round from 0; fence : (b + 2,) the same between ∓∞.
    """

    bearings: Floats
    sine: Floats
    cosine: Floats
    even: bool
    fence: Floats

    def before(self, bearing: Floats) -> Whole:
        """How many of the bearings are less than each of others [rad, 0 to 2π]."""
        if not self.even:
            return np.searchsorted(self.bearings, bearing)
        # By arithmetic to within one, then by comparing.
        found = np.ceil(bearing * (len(self.bearings) / TURN)).astype(np.int64)
        found -= self.fence.take(found) >= bearing
        found += self.fence.take(found + 1) < bearing
        return found


def sorted_bearings(bearings: Floats) -> Bearings:
    """Bearings (b,), sorted [rad], within [0, 2π)."""
    even = np.array_equal(bearings, np.radians(even_bearings(len(bearings)))) if len(bearings) else False
    fence = np.concatenate([[-np.inf], bearings, [np.inf]])
    return Bearings(bearings, np.sin(bearings), np.cos(bearings), even, fence)


def bands_from(scene: Scene, edges: Edges, places: Floats, directions: Floats, bearings: Bearings) -> Columns:
    """Open bands of a few light points.

    Returns number of the place, of the bearing, low, high [°], kind, low edge, high edge.
    """
    return bands_among(silhouettes(scene, edges, places), directions, bearings)


def bands_among(
    seen: Silhouettes, directions: Floats, bearings: Bearings, wanted: NDArray[np.bool_] | None = None
) -> Columns:
    """The same by silhouettes that are known, at the bearings of each place that are ``wanted`` (p, b)."""
    low_limit, high_limit = own_front(directions, bearings.sine, bearings.cosine)
    low_limit, high_limit = np.arctan(low_limit), np.arctan(high_limit)
    in_front = high_limit - low_limit > NARROWEST
    if wanted is not None:
        in_front &= wanted
    place, bearing = np.nonzero(in_front)
    lines = _lines(in_front, bearing, bearings)
    low, high, at, count, low_edge, high_edge = _stretches(seen, lines, bearings)
    low_limit, high_limit = low_limit[place, bearing][at], high_limit[place, bearing][at]
    low_edge[low < low_limit] = OWN_BACK
    high_edge[high > high_limit] = OWN_BACK
    low, high = np.maximum(low, low_limit), np.minimum(high, high_limit)
    wide = np.flatnonzero(high - low > NARROWEST)
    low, high, at = low[wide], high[wide], at[wide]
    kind, low_edge, high_edge = kinds_of(count[wide]), low_edge[wide], high_edge[wide]
    begins = np.ones(len(low), dtype=bool)
    begins[1:] = (at[1:] != at[:-1]) | (kind[1:] != kind[:-1]) | (low[1:] - high[:-1] > NARROWEST)
    ends = np.append(begins[1:], True) if len(low) else begins
    line = at[begins]
    return (
        place[line],
        bearing[line],
        np.degrees(low[begins]),
        np.degrees(high[ends]),
        kind[begins],
        low_edge[begins],
        high_edge[ends],
    )


class _Lines(NamedTuple):
    """Lines upright in the half-planes at some of the bearings from each place, by place, then by bearing.

    sine, cosine : (q,); first : (p + 1,) where each place's lines begin;
    rank : (p, b + 1) the first of a place's lines that is not before the bearing of that number
    """

    sine: Floats
    cosine: Floats
    first: Whole
    rank: Whole


def _lines(in_front: NDArray[np.bool_], bearing: Whole, bearings: Bearings) -> _Lines:
    places, size = in_front.shape
    rank = np.zeros((places, size + 1), dtype=np.int64)
    np.cumsum(in_front, axis=1, out=rank[:, 1:])
    first = np.zeros(places + 1, dtype=np.int64)
    np.cumsum(rank[:, -1], out=first[1:])
    rank += first[:-1, None]
    return _Lines(bearings.sine[bearing], bearings.cosine[bearing], first, rank)


def _stretches(
    seen: Silhouettes, lines: _Lines, bearings: Bearings
) -> tuple[Floats, Floats, Whole, Whole, Whole, Whole]:
    """Stretches between crossings, bottom up along each line, where nothing opaque stands.

    Returns low and high elevation [rad], line, packed count, low edge and high edge.
    """
    places, total = len(seen.nadir), len(lines.sine)
    before = bearings.before(seen.bearing).reshape(places, -1)
    over = spans(seen, np.take_along_axis(lines.rank, before, axis=1).ravel(), lines.first)
    # Every line begins with a stretch from straight down; then one from each crossing on.
    each = np.append(total, over.count)
    at = ranges(np.append(0, over.start), each)
    elevation = np.empty(len(at))
    elevation[:total] = -np.pi / 2
    np.arctan(tangents(seen, over, at[total:], lines.sine, lines.cosine), out=elevation[total:])
    order = in_order(at, elevation, total)
    gain = seen.gain[over.which]
    count = np.repeat(np.append(0, gain), each)
    count[:total] = _afresh(seen, over, gain, lines.first)
    count = np.cumsum(count.take(order))
    unhidden = np.flatnonzero(count < OPAQUE)
    # After the last of all comes the beginning of the first line.
    begin, end = order.take(unhidden), order.take(unhidden + 1, mode="wrap")
    edge = np.repeat(np.append(POLE, seen.edge[over.which]), each)
    last = end < total
    return (
        elevation[begin],
        np.where(last, np.pi / 2, elevation[end]),
        at[begin],
        count[unhidden],
        edge[begin],
        np.where(last, POLE, edge[end]),
    )


def _afresh(seen: Silhouettes, over: Spans, gain: Whole, first: Whole) -> Whole:
    """What to add at each line's beginning for the running count to be that at the nadir of its place.

    Silhouettes are closed, so that all lines of a place come to the same count straight up.
    """
    lines = np.diff(first)
    place = seen.place[over.which]
    at_first = over.start == first[place]
    # Sums of packed counts stay below 2^53, where floating point is exact.
    rise = np.bincount(place[at_first], weights=gain[at_first], minlength=len(lines)).astype(np.int64)
    found = np.repeat(-rise, lines)
    has = np.flatnonzero(lines)
    zenith = (seen.nadir + rise)[has]
    found[first[has]] = seen.nadir[has] - np.append(0, zenith[:-1])
    return found
