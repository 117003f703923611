"""What light points are along straight lines to eyes, by the same silhouettes as the bands.

The lines of one eye are sorted by bearing for each light point. Most edges pass wholly below
all of a point's lines, or wholly above them: the first count in full along their span, the
second not at all. Only the rest needs its crossings found.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.description.lamp import Surface
from stackview.sight.bands import HIDDEN, kinds_of
from stackview.sight.crossings import (
    ASIDE,
    IN_FRONT,
    Silhouettes,
    Spans,
    bearing_of,
    silhouettes,
    spans,
    tangents,
)
from stackview.sight.edges import Edges
from stackview.sight.scene import Scene
from stackview.sight.surface import behind_surface

_APART = 8.0
"""More than a full turn [rad]: keeps the bearings of different places apart in one sorted array."""
_BINS = 1024
"""Bins of bearing all round by which a bearing's place among lines is found to within a line or two."""


def kinds_towards(
    scene: Scene,
    edges: Edges,
    places: Floats,
    directions: Floats,
    targets: Floats,
    surface: Surface | None,
    wanted: NDArray[np.bool_],
) -> NDArray[np.int8]:
    """Kind of each light point along straight lines to the targets, by the same silhouettes as the bands.

    What is glazed here only crosses clear acrylic on a straight line, which light does not:
    :func:`stackview.sight.glazed_eyes.true_kinds` puts the traced light in its place.

    Parameters
    ----------
    places, directions : (p, 3) of the faces
    targets : (e, b, 3) places of the eyes [mm]
    wanted : (e, p, b) limits the work

    Returns
    -------
    (e, p, b) of :class:`Kind` or :data:`HIDDEN`
    """
    places = places + IN_FRONT * directions + ASIDE
    offset = [targets[:, None, :, axis] - places[:, axis : axis + 1] for axis in range(3)]
    ahead = sum(offset[axis] * directions[:, axis : axis + 1] for axis in range(3))
    asked = (ahead > 0) & wanted
    if surface is not None:
        asked &= ~behind_surface(places[:, None], targets[:, None], surface)
    kind = np.full(asked.shape, HIDDEN, dtype=np.int8)
    if not asked.any():
        return kind
    seen = silhouettes(scene, edges, places)
    reach = seen.reach()
    for eye, own in enumerate(asked):
        place = np.nonzero(own)[0]
        if len(place):
            x, y, z = (offset[axis][eye][own] for axis in range(3))
            kind[eye][own] = kinds_of(_counts_along(seen, reach, _lines(place, x, y, z, len(places))))
    return kind


class _Lines(NamedTuple):
    """Lines from places to one eye's stands, by place, then by bearing.

    order : (q,) of them as they came; key : (q + 1,) place and bearing in one rising number, and ∞
    sine, cosine, tangent : (q,); first : (p + 1,) where each place's lines begin
    """

    order: Whole
    key: Floats
    sine: Floats
    cosine: Floats
    tangent: Floats
    first: Whole

    def after(self, bearing: Floats) -> Whole:
        """The first line of each place that is not before bearings (p, k) [rad, 0 to 2π]: (p, k)."""
        apart = np.arange(len(bearing))[:, None]
        bearing = bearing + _APART * apart
        step = _BINS / _APART
        # Bins run on from place to place. Whatever lies in an earlier bin is before a bearing, whatever
        # lies in a later one is not; only within its own bin lines are compared.
        fill = np.bincount((self.key[:-1] * step).astype(np.int64), minlength=_BINS * len(bearing))
        found = (np.cumsum(fill) - fill).take((bearing * step).astype(np.int64))
        for _ in range(int(fill.max(initial=0))):
            found += self.key.take(found) < bearing
        return found


def _lines(place: Whole, x: Floats, y: Floats, z: Floats, places: int) -> _Lines:
    """Lines along offsets x, y, z (q,) [mm] from places (q,) in rising order."""
    across = np.maximum(np.sqrt(x * x + y * y), 1e-300)
    key = bearing_of((x, y)) + _APART * place
    order = np.argsort(key)
    across, x, y, z = across[order], x[order], y[order], z[order]
    first = np.searchsorted(place, np.arange(places + 1))
    return _Lines(order, np.append(key[order], np.inf), x / across, -y / across, z / across, first)


def _counts_along(seen: Silhouettes, reach: tuple[Floats, Floats], lines: _Lines) -> Whole:
    """Packed count that the lines meet, in the order in which they came."""
    places, size = len(seen.nadir), len(lines.tangent)
    over = spans(seen, lines.after(seen.bearing.reshape(places, -1)).ravel(), lines.first)
    lowest, highest = _extremes(lines)
    place, (low, high) = seen.place[over.which], reach
    wholly_below = high[over.which] < lowest[place]
    between = ~wholly_below & (low[over.which] <= highest[place])
    total = _along_spans(seen, over.chosen(wholly_below), size)
    over = over.chosen(between)
    at = over.lines()
    under = np.flatnonzero(tangents(seen, over, at, lines.sine, lines.cosine) < lines.tangent[at])
    gain = np.repeat(seen.gain[over.which], over.count)
    total += np.bincount(at[under], weights=gain[under], minlength=size)
    total += np.repeat(seen.nadir, np.diff(lines.first))
    count = np.empty(size, dtype=np.int64)
    # Sums of packed counts stay below 2^53, where floating point is exact.
    count[lines.order] = total
    return count


def _extremes(lines: _Lines) -> tuple[Floats, Floats]:
    """Lowest and highest tangent among each place's lines; an empty range where it has none."""
    places = len(lines.first) - 1
    lowest, highest = np.full(places, np.inf), np.full(places, -np.inf)
    has = np.flatnonzero(np.diff(lines.first))
    lowest[has] = np.minimum.reduceat(lines.tangent, lines.first[has])
    highest[has] = np.maximum.reduceat(lines.tangent, lines.first[has])
    return lowest, highest


def _along_spans(seen: Silhouettes, over: Spans, lines: int) -> Floats:
    """Sum of the edges' gains at each line of their spans."""
    gain = seen.gain[over.which].astype(float)
    steps = np.zeros(lines + 1)
    steps += np.bincount(over.start, weights=gain, minlength=lines + 1)
    steps -= np.bincount(over.start + over.count, weights=gain, minlength=lines + 1)
    return np.asarray(np.cumsum(steps)[:lines])
