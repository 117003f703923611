"""From which elevations the inner edge of a joint is seen, where squeezed-out glue shows."""

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.description.lamp import Eye, Surface
from stackview.kept import kept
from stackview.sight.bands import Kind, bands_from, even_bearings, sorted_bearings
from stackview.sight.clear_bodies import ClearBodies, clear_bodies
from stackview.sight.crossings import ASIDE
from stackview.sight.edges import edges_for
from stackview.sight.paths import followed
from stackview.sight.scene import Scene, scene_of
from stackview.sight.surface import edge_distance
from stackview.sight.towers import Towers, towers_of
from stackview.stack.joints import Joint
from stackview.stack.placed import Placed

_OUT = 0.2
"""How far from the edge and from the joint the glue is looked at [mm]."""
_PLACES = 24
"""Places along an inner edge, and bearings from each, at which is looked: what shows ends to some 3° there."""
_BEARINGS = 72
_TRACED = 3
"""Through clear acrylic one in so many places is looked from."""
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
    eyes: tuple[str, ...] = ()
    """Names of the eyes that see it as they walk round the lamp."""


@dataclass(frozen=True, slots=True)
class Onlookers:
    """Who looks, and what hides the edge from below: the lamp's eyes, how high z = 0 stands, the surface."""

    eyes: tuple[Eye, ...] = ()
    floor: float = 0.0
    surface: Surface | None = None


@dataclass(frozen=True, eq=False)
class AllParts:
    """All parts of a lamp with their scene, which its joints are looked at among."""

    scene: Scene
    placed: tuple[Placed, ...]

    @kept
    def towers(self) -> Towers:
        """What layers hide together, once a joint asks for it."""
        return towers_of(self.placed)


def shows(among: AllParts, joint: Joint, room: Onlookers = Onlookers()) -> Shows | None:
    """Where the joint's inner edges show; None where opaque or veiling parts, or the surface, hide them."""
    places, inwards = _beads(joint)
    if not len(places):
        return None
    bare = _bare(among, places, inwards, room)
    if bare is not None:
        return bare
    bodies = clear_bodies(among.scene)
    if bodies is None:
        return None
    return _through_clear(bodies, places[::_TRACED], inwards[::_TRACED], room)


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


def _bare(among: AllParts, places: Floats, inwards: Floats, room: Onlookers) -> Shows | None:
    """From which elevations, and by which eyes, any of the places is seen through air.

    A part can only hide. So what parts near in height hide, and prisms for what the others surely hide together, is
    hidden; and what these leave open begins and ends where it does for all parts, if no other part reaches into the
    band at its end. Those that may are looked at too: a joint deep in a tall lamp asks a few of its layers.
    """
    scene, placed = among.scene, among.placed
    if len(placed) <= _FEW:
        return _told(_open_among(scene, places, inwards, room), places, room)
    towers = among.towers
    most = np.where(_nearest(scene, places), 0, len(placed))
    while True:
        taken = towers.taken(most)
        parts = towers.parts(taken)
        if len(parts) > _MOST * len(placed):
            return _told(_open_among(scene, places, inwards, room), places, room)
        bands = _open_among(scene_of(parts), places, inwards, room)
        others = _in_the_way(towers, places, bands, taken.own)
        if not others.any() and _surely_seen(towers, places, bands, taken.own, room):
            return _told(bands, places, room)
        most = towers.finer(most, taken, others if others.any() else ~taken.own)


def _told(bands: _Open, places: Floats, room: Onlookers) -> Shows | None:
    """What bands tell: None where none is open."""
    if bands.ends is None:
        return None
    eyes = tuple(eye.name for eye in room.eyes if _lines_to(eye, bands, places, room)[0].any())
    return Shows(*bands.ends, glazed=False, eyes=eyes)


def _lines_to(eye: Eye, bands: _Open, places: Floats, room: Onlookers) -> tuple[NDArray[np.bool_], Floats]:
    """Which bands hold the line to an eye on their bearing, and at which elevation that is [°]; (n,) each."""
    at, way = places[bands.place], np.column_stack((np.sin(bands.bearing), -np.cos(bands.bearing)))
    along = np.einsum("ij,ij->i", at[:, :2], way)
    off = np.maximum(eye.distance**2 - np.einsum("ij,ij->i", at[:, :2], at[:, :2]) + along**2, 0.0)
    up = np.degrees(np.arctan2(eye.height - room.floor - at[:, 2], np.sqrt(off) - along))
    return (bands.low <= up) & (up <= bands.high), up


def _surely_seen(
    towers: Towers, places: Floats, bands: _Open, asked: NDArray[np.bool_], room: Onlookers
) -> bool:
    """Whether each eye that these bands show the joint to sees it past all other parts too."""
    for eye in room.eyes:
        held, up = _lines_to(eye, bands, places, room)
        some = np.nonzero(held)[0][:_WITNESSES]
        line = np.radians(up[some])
        met = towers.met(places[bands.place[some]], bands.bearing[some], line - _HAIR, line + _HAIR) & ~asked
        if len(some) and met.any(axis=1).all():
            return False
    return True


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


def _open_among(scene: Scene, places: Floats, inwards: Floats, room: Onlookers) -> _Open:
    """The bands in which places are seen through air between the parts of a scene, above the surface's edge."""
    bearings = sorted_bearings(np.radians(even_bearings(_BEARINGS)))
    edges = edges_for(scene, places, inwards)
    place, bearing, low, high, kind, _, _ = bands_from(scene, edges, places, inwards, bearings)
    bare = kind == Kind.BARE
    bands = _Open(place[bare], bearings.bearings[bearing[bare]], low[bare], high[bare])
    return bands if room.surface is None else _over_edge(bands, places, room.surface)


def _over_edge(bands: _Open, places: Floats, surface: Surface) -> _Open:
    """What of bands passes over the edge of the surface that the lamp stands on."""
    at = places[bands.place]
    over = edge_distance(surface, at, bands.bearing)
    low = np.maximum(bands.low, np.where(over > 0.0, -np.degrees(np.arctan2(at[:, 2], over)), -90.0))
    left = low < bands.high
    return _Open(bands.place[left], bands.bearing[left], low[left], bands.high[left])


def _through_clear(bodies: ClearBodies, places: Floats, inwards: Floats, room: Onlookers) -> Shows | None:
    """Between which elevations light from the places leaves the lamp through clear acrylic, over the surface's edge."""
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
    out = found.faces != 0
    at, along = found.places[out], found.directions[out]
    rise = np.degrees(np.arcsin(np.clip(along[:, 2], -1.0, 1.0)))
    half, own = _RAYS[1] / 2.0, np.arange(len(rise))
    bands = _Open(own, np.arctan2(along[:, 0], -along[:, 1]), rise - half, rise + half)
    if room.surface is not None:
        bands = _over_edge(bands, at, room.surface)
    told = _told(bands, at, room)
    return None if told is None else replace(told, low=told.low + half, high=told.high - half, glazed=True)


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
