"""Open bands: for each light point and bearing, the elevations at which it is not hidden.

A band is bare, glazed or veiled; whatever lies between bands is hidden. Its ends are exact:
each is the elevation of an edge, of the light point's own back, or straight up or down.
"""

import os
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from enum import IntEnum
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.crossings import (
    ASIDE,
    IN_FRONT,
    Lines,
    Silhouettes,
    crossings,
    lines_at,
    silhouettes,
    spans,
)
from stackview.sight.scene import OPAQUE, VEIL, Edges, Scene, edges_for

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
    radians = np.radians(bearings)
    found: list[Columns] = []

    def one(run: range) -> Columns:
        places, edges = taken_at(points)[run], edges_of_run(scene, points, run)
        place, *columns = bands_from(scene, edges, places, points.directions[run], radians)
        return (place + run.start, *columns)

    for run, columns in each_run(one, len(points)):
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


Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Columns = tuple[NDArray[np.generic], ...]
Result = TypeVar("Result")

RUN = 4
"""Light points worked out together; neighbours on a strip lie in a small box."""


def each_run(one: Callable[[range], Result], count: int) -> Iterator[tuple[range, Result]]:
    """``one(run)`` for runs of light points, in order, on the machine's cores.

    numpy lets go of the interpreter's lock in long loops, so that threads do help; results do
    not depend on their number.
    """
    runs = [range(start, min(start + RUN, count)) for start in range(0, count, RUN)]
    workers = min(os.cpu_count() or 1, 4, len(runs))
    if workers < 2:
        yield from ((run, one(run)) for run in runs)
        return
    with ThreadPoolExecutor(workers) as pool:
        try:
            yield from zip(runs, pool.map(one, runs), strict=True)
        except BaseException:
            pool.shutdown(cancel_futures=True)
            raise


def edges_of_run(scene: Scene, points: LightPoints, run: range, highest: float = np.inf) -> Edges:
    """The edges that can bound the view from any face of a run, up to the tangent ``highest``."""
    places = np.vstack([points.centres[run], points.corners[run].reshape(-1, 3)])
    return edges_for(scene, places, points.directions[run], highest)


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


def bands_from(
    scene: Scene,
    edges: Edges,
    places: NDArray[np.float64],
    directions: NDArray[np.float64],
    bearings: NDArray[np.float64],
) -> Columns:
    """Open bands of a few light points at ``bearings`` [rad].

    Returns number of the place, of the bearing, low, high [°], kind, low edge, high edge.
    """
    low_limit, high_limit = own_front(directions, np.sin(bearings), np.cos(bearings))
    place, bearing = np.nonzero(np.arctan(high_limit) - np.arctan(low_limit) > NARROWEST)
    low_limit, high_limit = low_limit[place, bearing], high_limit[place, bearing]
    lines = lines_at(place, bearings[bearing], len(places))
    seen = silhouettes(scene, edges, places)
    low, high, at, count, low_edge, high_edge = _stretches(seen, lines)
    behind_low, behind_high = low < low_limit[at], high > high_limit[at]
    low = np.arctan(np.where(behind_low, low_limit[at], low))
    high = np.arctan(np.where(behind_high, high_limit[at], high))
    low_edge = np.where(behind_low, OWN_BACK, low_edge)
    high_edge = np.where(behind_high, OWN_BACK, high_edge)
    kind = kinds_of(count)
    wide = np.flatnonzero(high - low > NARROWEST)
    low, high, at = low[wide], high[wide], at[wide]
    kind, low_edge, high_edge = kind[wide], low_edge[wide], high_edge[wide]
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


def _stretches(seen: Silhouettes, lines: Lines) -> tuple[Floats, Floats, Whole, Whole, Whole, Whole]:
    """Stretches between crossings, bottom up along each line, where nothing opaque stands.

    Returns low and high tangent, line, packed count, low edge and high edge.
    """
    over = spans(seen, lines)
    which, at, tangent = crossings(seen, over, lines)
    total = len(lines.place)
    nadir = seen.nadir[lines.place]
    # Every line begins with a stretch from straight down; then one from each crossing on.
    tangent = np.concatenate([np.full(total, -np.inf), tangent])
    # One sort key for line and elevation: the tangent squeezed into (−1, 1), the start below it.
    with np.errstate(invalid="ignore"):
        key = 2.0 * np.concatenate([np.arange(total), at]) + tangent / (1.0 + np.abs(tangent))
    key[:total] = 2.0 * np.arange(total) - 1.0
    order = np.argsort(key)
    edge = np.concatenate([np.full(total, POLE), seen.edge[which]])[order]
    per_line = np.bincount(at, minlength=total) + 1
    first = np.concatenate([[0], np.cumsum(per_line)])
    line = np.repeat(np.arange(total), per_line)
    running = np.cumsum(np.concatenate([np.zeros(total, np.int64), over.gain[which]])[order])
    # Each line starts afresh at its nadir: undo what the lines before it have summed up.
    count = running + np.repeat(nadir - running[first[:-1]], per_line)
    tangent = tangent[order]
    unhidden = np.flatnonzero(count < OPAQUE)
    line = line[unhidden]
    following = unhidden + 1
    last = following == first[line + 1]
    following = np.where(last, unhidden, following)
    return (
        tangent[unhidden],
        np.where(last, np.inf, tangent[following]),
        line,
        count[unhidden],
        edge[unhidden],
        np.where(last, POLE, edge[following]),
    )
