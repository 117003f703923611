"""From which elevations the inner edge of a joint is seen, where squeezed-out glue shows."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.sight.bands import Kind, bands_from, even_bearings, sorted_bearings
from stackview.sight.clear_bodies import ClearBodies, clear_bodies
from stackview.sight.crossings import ASIDE
from stackview.sight.edges import edges_for
from stackview.sight.paths import followed
from stackview.sight.scene import Scene, scene_of
from stackview.sight.towers import Towers, towers_of
from stackview.stack.joints import Joint
from stackview.stack.placed import Placed

_OUT = 0.2
"""How far from the edge and from the joint the glue is looked at [mm]."""
_PLACES = 4
"""Places along an inner edge, and bearings from each, at which is looked."""
_BEARINGS = 16
_RAYS = (4.0, 2.0)
"""Steps in bearing and elevation of the rays that are traced through clear acrylic [°]."""
_NEAR = 4
"""Parts nearest in height to a joint that are looked at by themselves from the first."""
_FEW = 30
"""As many parts are looked at together at once."""
_MOST = 0.5
"""Where more than this share of the parts would be looked at, all are."""
_WITNESSES = 6
"""Bands at either end of what is seen that are held against all parts."""
_HAIR = 1e-6
"""How much of a band at its end is held against all parts [rad]."""


@dataclass(frozen=True, slots=True)
class Shows:
    """Lowest and highest elevation [°] from which an edge shows: bare, or through clear acrylic to about 2°."""

    low: float
    high: float
    glazed: bool
    """Only through clear acrylic."""


def shows(scene: Scene, placed: Sequence[Placed], joint: Joint) -> Shows | None:
    """Where the joint's inner edges show; None where opaque or veiling parts hide them.

    ``scene`` is that of all the ``placed`` parts.
    """
    places, inwards = _beads(joint)
    if not len(places):
        return None
    bare = _bare(scene, placed, places, inwards)
    if bare is not None:
        return Shows(*bare, glazed=False)
    bodies = clear_bodies(scene)
    return _through_clear(bodies, places, inwards) if bodies is not None else None


class _Open(NamedTuple):
    """Bands that are bare: number of the place, bearing [rad], lowest and highest elevation [°], (n,) each."""

    place: Whole
    bearing: Floats
    low: Floats
    high: Floats

    @property
    def ends(self) -> tuple[float, float] | None:
        """The lowest and the highest elevation of all [°]; None without a band."""
        return (float(self.low.min()), float(self.high.max())) if len(self.low) else None


def _bare(
    scene: Scene, placed: Sequence[Placed], places: Floats, inwards: Floats
) -> tuple[float, float] | None:
    """Lowest and highest elevation [°] from which any of the places is seen through air.

    A part can only hide. So what parts near in height hide, and prisms for what the others surely hide together, is
    hidden; and what these leave open begins and ends where it does for all parts, if no other part reaches into the
    band at its end. Those that may are looked at too: a joint deep in a tall lamp asks a few of its layers.
    """
    if len(placed) <= _FEW:
        return _open_among(scene, places, inwards).ends
    towers = towers_of(tuple(placed))
    most = np.where(_nearest(scene, places), 0, len(placed))
    while True:
        taken = towers.taken(most)
        parts = towers.parts(taken)
        if len(parts) > _MOST * len(placed):
            return _open_among(scene, places, inwards).ends
        bands = _open_among(scene_of(parts), places, inwards)
        others = _in_the_way(towers, places, bands, taken.own)
        if not others.any():
            return bands.ends
        most = towers.finer(most, taken, others)


def _nearest(scene: Scene, places: Floats) -> NDArray[np.bool_]:
    """The parts nearest in height to some places, the lowest one and the highest one."""
    low, high = places[:, 2].min(), places[:, 2].max()
    away = np.maximum(scene.bottom - high, low - scene.top)
    asked = away <= np.sort(away)[:_NEAR][-1]
    asked[[np.argmin(scene.bottom), np.argmax(scene.top)]] = True
    return np.asarray(asked)


def _in_the_way(towers: Towers, places: Floats, bands: _Open, asked: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Parts not ``asked`` yet that may reach into the lowest or the highest band, at its end; none where none does."""
    found = np.zeros(len(asked), dtype=bool)
    low, high = np.radians(bands.low), np.radians(bands.high)
    lowest, highest = np.minimum(high, low + _HAIR), np.maximum(low, high - _HAIR)
    for end, begin, stop in ((low, low, lowest), (-high, highest, high)):
        some = np.argsort(end, kind="stable")[:_WITNESSES]
        met = towers.met(places[bands.place[some]], bands.bearing[some], begin[some], stop[some]) & ~asked
        if met[:1].any():
            found |= met.any(axis=0)
    return found


def _open_among(scene: Scene, places: Floats, inwards: Floats) -> _Open:
    """The bands in which places are seen through air between the parts of a scene."""
    bearings = sorted_bearings(np.radians(even_bearings(_BEARINGS)))
    edges = edges_for(scene, places, inwards)
    place, bearing, low, high, kind, _, _ = bands_from(scene, edges, places, inwards, bearings)
    bare = kind == Kind.BARE
    return _Open(place[bare], bearings.bearings[bearing[bare]], low[bare], high[bare])


def _through_clear(bodies: ClearBodies, places: Floats, inwards: Floats) -> Shows | None:
    """Between which elevations light from the places leaves the lamp through clear acrylic."""
    bearing, elevation = np.meshgrid(
        np.radians(np.arange(0.0, 360.0, _RAYS[0])),
        np.radians(np.arange(_RAYS[1] / 2.0 - 90.0, 90.0, _RAYS[1])),
        indexing="ij",
    )
    level = np.cos(elevation)
    ways = np.stack([np.sin(bearing) * level, -np.cos(bearing) * level, np.sin(elevation)], axis=-1).reshape(
        -1, 3
    )
    place, way = np.nonzero(inwards @ ways.T > 0.0)
    found = followed(bodies, places[place], ways[way])
    rise = found.directions[found.faces != 0, 2]
    if not len(rise):
        return None
    low, high = np.degrees(np.arcsin(np.clip([rise.min(), rise.max()], -1.0, 1.0)))
    return Shows(float(low), float(high), glazed=True)


def _beads(joint: Joint) -> tuple[Floats, Floats]:
    """Places of squeezed-out glue (n, 3) and the unit vectors from the edge into the opening (n, 3)."""
    places, inwards = [], []
    for edge in (edge for strip in joint.strips for edge in strip.open_edges):
        start, run = edge, np.roll(edge, -1, axis=0) - edge
        size = np.hypot(run[:, 0], run[:, 1])
        reach = np.cumsum(size)
        wanted = (np.arange(_PLACES) + 0.5) / _PLACES * reach[-1]
        at = np.searchsorted(reach, wanted)
        share = 1.0 - (reach[at] - wanted) / size[at]
        out = np.column_stack((-run[at, 1], run[at, 0])) / size[at, None]
        # Into the opening, whichever way round the edge runs.
        out = -out if _runs_clockwise(edge) else out
        middle = start[at] + share[:, None] * run[at] + _OUT * out
        below = ~shapely.contains_xy(joint.carries, middle[:, 0], middle[:, 1])
        height = joint.height + np.where(below, -_OUT, _OUT)
        places.append(np.column_stack((middle, height)))
        inwards.append(np.column_stack((out, np.zeros(len(out)))))
    if not places:
        return np.zeros((0, 3)), np.zeros((0, 3))
    # A hair aside, as light points are: nothing has its edge straight above or below.
    return np.concatenate(places) + ASIDE, np.concatenate(inwards)


def _runs_clockwise(edge: Floats) -> bool:
    x, y = edge.T
    return bool((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() < 0.0)
