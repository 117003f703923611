"""The numbers behind the sightline map: how many light points show in each of its pixels."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.sight.bands import Bands, Kind
from stackview.sight.eyes import Standpoint
from stackview.sight.sphere import count_map
from stackview.sight.surface import behind_surface

_FAR = 1e7
"""Distance at which an eye counts as far away [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class MapCounts:
    """Counts of one class on a chart of bearing by elevation, its first row on top.

    shown : (h, w); profile : (h,) mean over all bearings at each row's elevation.
    """

    shown: NDArray[np.int32]
    profile: NDArray[np.float64]

    @property
    def most(self) -> int:
        """Greatest count in one pixel."""
        return int(self.shown.max(initial=0))


def row_elevations(rows: int) -> NDArray[np.float64]:
    """Elevations in the middle of a chart's rows, from the top down [°].

    >>> row_elevations(3).tolist()
    [60.0, 0.0, -60.0]
    """
    return np.asarray(90.0 - (np.arange(rows) + 0.5) * (180.0 / rows), np.float64)


def column_bearings(columns: int) -> NDArray[np.float64]:
    """Bearings in the middle of a chart's columns, from the left [°].

    >>> column_bearings(4).tolist()
    [45.0, 135.0, 225.0, 315.0]
    """
    return np.asarray((np.arange(columns) + 0.5) * (360.0 / columns), np.float64)


def map_counts(bands: Bands, kind: Kind, columns: int, rows: int) -> MapCounts:
    """Count the light points of one class that show in each pixel of the chart.

    A pixel holds the count at its middle, at the nearest bearing that was computed; one that a
    band merely touches holds 1, so that no band is too narrow to be seen.
    """
    chosen = bands.chosen(bands.kind == kind)
    upwards = row_elevations(rows)[::-1]
    middle = count_map(chosen, upwards)[::-1]
    half = 90.0 / rows
    touched = count_map(replace(chosen, low=chosen.low - half, high=chosen.high + half), upwards)[::-1]
    seen = np.where((middle == 0) & (touched > 0), 1, middle)
    return MapCounts(_on_columns(seen.astype(np.int32), bands.bearings, columns), middle.mean(axis=1))


def _on_columns(counts: NDArray[np.int32], bearings: NDArray[np.float64], columns: int) -> NDArray[np.int32]:
    """Take counts (h, b) at each column's nearest bearing; where several share one, the greatest."""
    between = (bearings + np.append(bearings[1:], bearings[0] + 360.0)) / 2.0
    nearest = np.searchsorted(between, column_bearings(columns)) % len(bearings)
    # The first bearing also serves what lies before it, round the turn from the last.
    before = between[-1] - 360.0
    nearest = np.where(column_bearings(columns) < before, len(bearings) - 1, nearest)
    drawn = np.take(counts, nearest, axis=1)
    if columns < len(bearings):
        own = np.minimum((bearings / 360.0 * columns).astype(np.int64), columns - 1)
        starts = np.flatnonzero(np.append(True, own[1:] != own[:-1]))
        drawn[:, own[starts]] = np.maximum(drawn[:, own[starts]], np.maximum.reduceat(counts, starts, axis=1))
    return np.asarray(drawn)


def surface_hides(
    standpoint: Standpoint, middle: float, bearings: NDArray[np.float64], elevations: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Whether the surface hides the axis at height ``middle`` [mm] from a far eye.

    ``bearings`` and ``elevations`` [°] are broadcast against each other.
    """
    turn, rise = np.broadcast_arrays(np.radians(bearings), np.radians(elevations))
    way = np.stack([np.sin(turn) * np.cos(rise), -np.cos(turn) * np.cos(rise), np.sin(rise)], axis=-1)
    place = np.array([0.0, 0.0, middle])
    return behind_surface(place, place + _FAR * way, standpoint.surface)


def surface_zone(
    standpoint: Standpoint, middle: float, columns: int, rows: int, edge: NDArray[np.float64] | None
) -> NDArray[np.bool_]:
    """Where on the chart (h, w) the surface hides the axis at height ``middle`` from a far eye.

    ``edge`` is :func:`surface_edge` at the columns; without one every pixel is judged by itself.
    """
    elevations = row_elevations(rows)[:, None]
    if standpoint.surface is None:
        return np.zeros((rows, columns), dtype=bool)
    if edge is not None:
        return np.asarray(elevations < edge)
    return surface_hides(standpoint, middle, column_bearings(columns), elevations)


def surface_edge(
    standpoint: Standpoint, middle: float, bearings: NDArray[np.float64]
) -> NDArray[np.float64] | None:
    """Elevation below which the surface hides the axis at height ``middle``, at each bearing [°].

    None without a surface under the axis. The line of sight over the surface's edge, by halving.
    """
    low, high = np.full(len(bearings), -90.0 + 1e-6), np.zeros(len(bearings))
    if not surface_hides(standpoint, middle, bearings, low).all():
        return None
    for _ in range(30):
        between = (low + high) / 2.0
        hidden = surface_hides(standpoint, middle, bearings, between)
        low, high = np.where(hidden, between, low), np.where(hidden, high, between)
    return low
