"""All directions: bands of many light points merged, their share of the sphere, and cut-offs.

Seen from far away a light point shows in a direction (bearing, elevation), whatever its own
place in the lamp; this is the lamp alone, without the surface it stands on.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import read_only
from stackview.one_line import one_line
from stackview.sight.bands import NARROWEST, Bands
from stackview.sight.edge_names import EdgeNames

_WIDTH = float(np.degrees(NARROWEST))
_ROUNDING = 4.0 * float(np.finfo(float).eps)


@dataclass(frozen=True, slots=True, eq=False)
class Merged:
    """Bands of all points joined where they touch; ordered by bearing, then elevation.

    bearing : (m,) index; low, high : (m,) [°]; most : (m,) greatest number of points that show
    at one elevation within the band; low_edge, high_edge : (m,) scene edges that bound it.
    """

    bearing: NDArray[np.int32]
    low: NDArray[np.float64]
    high: NDArray[np.float64]
    most: NDArray[np.int64]
    low_edge: NDArray[np.int32]
    high_edge: NDArray[np.int32]

    __repr__ = one_line

    def __post_init__(self) -> None:
        read_only(getattr(self, name) for name in self.__slots__)


def merged(bands: Bands) -> Merged:
    """Join the bands of all light points at each bearing, counting how many overlap."""
    size = len(bands)
    bearing = np.concatenate([bands.bearing, bands.bearing])
    elevation = np.concatenate([bands.low, bands.high])
    edge = np.concatenate([bands.low_edge, bands.high_edge])
    # One sort key for bearing and elevation. Where a band begins exactly where another ends, the
    # beginning counts first: ends are moved on by what rounding leaves of such a key.
    key = bearing + elevation * (1.0 / 400.0)
    key[size:] += _ROUNDING * max(len(bands.bearings), 1)
    order = np.argsort(key)
    bearing, elevation, edge = bearing[order], elevation[order], edge[order]
    step = np.where(order < size, 1, -1)
    showing = np.cumsum(step)
    begins = np.flatnonzero((step > 0) & (showing == 1))
    ends = np.flatnonzero((step < 0) & (showing == 0))
    apart = np.ones(len(begins), dtype=bool)
    apart[1:] = (bearing[begins[1:]] != bearing[ends[:-1]]) | (
        elevation[begins[1:]] - elevation[ends[:-1]] > _WIDTH
    )
    first, last = begins[apart], ends[np.append(apart[1:], True)] if len(ends) else ends
    most = np.maximum.reduceat(showing, first) if len(first) else np.zeros(0, np.int64)
    return Merged(bearing[first], elevation[first], elevation[last], most, edge[first], edge[last])


def share_of_sphere(joined: Merged, bearings: int) -> float:
    """Share of all directions inside the merged bands, 0 to 1.

    Solid angle of a band between elevations a and b over a turn: 2π(sin b − sin a), of 4π.
    """
    rise = np.sin(np.radians(joined.high)) - np.sin(np.radians(joined.low))
    return float(rise.sum() / (2.0 * bearings))


def count_map(bands: Bands, elevations: NDArray[np.float64]) -> NDArray[np.int64]:
    """Number of points that show at each elevation and bearing: (e, b).

    elevations : (e,) sorted [°]; each is judged exactly against every band's ends.
    """
    count = np.zeros((len(elevations) + 1, len(bands.bearings)), dtype=np.int64)
    np.add.at(count, (np.searchsorted(elevations, bands.low, "right"), bands.bearing), 1)
    np.add.at(count, (np.searchsorted(elevations, bands.high, "left"), bands.bearing), -1)
    return np.asarray(np.cumsum(count, axis=0)[:-1])


@dataclass(frozen=True, slots=True)
class CutOff:
    """Between which two named edges light points show, and the elevations at which that begins and ends."""

    low: float
    """Lowest elevation, over all bearings and points, at which this gap shows a point [°]."""
    high: float
    """Highest such elevation [°]."""
    low_edge: str
    high_edge: str
    bearings: int
    """Number of bearings at which it shows at least one point."""
    points: int
    """Number of different light points that it shows."""
    share: float
    """Share of the sphere, summed over points; tells which gap matters most."""

    __repr__ = one_line


def cut_offs(bands: Bands, names: EdgeNames) -> tuple[CutOff, ...]:
    """The gaps that show light points, the one that shows most first."""
    low_name, high_name = names.numbers(bands.low_edge), names.numbers(bands.high_edge)
    key = low_name * len(names.texts) + high_name
    found, group = np.unique(key, return_inverse=True)
    group = group.reshape(-1)
    rise = np.sin(np.radians(bands.high)) - np.sin(np.radians(bands.low))
    weight = np.bincount(group, weights=rise, minlength=len(found)) / (2.0 * max(len(bands.bearings), 1))
    low = np.full(len(found), np.inf)
    high = np.full(len(found), -np.inf)
    np.minimum.at(low, group, bands.low)
    np.maximum.at(high, group, bands.high)
    return tuple(
        CutOff(
            low=float(low[index]),
            high=float(high[index]),
            low_edge=names.texts[int(found[index]) // len(names.texts)],
            high_edge=names.texts[int(found[index]) % len(names.texts)],
            bearings=_different(group, index, bands.bearing),
            points=_different(group, index, bands.point),
            share=float(weight[index]),
        )
        for index in np.argsort(-weight, kind="stable").tolist()
    )


def _different(group: NDArray[np.int64], index: int, values: NDArray[np.int32]) -> int:
    return len(np.unique(values[group == index]))
