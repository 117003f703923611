"""The rays of a fan, and the first lattice of them: only those are followed whose light can get through.

What a ray meets first is one search, what becomes of it afterwards a dozen. So all rays of the
lattice are looked at once; of those that enter clear acrylic every second is followed, like the
black fields of a chessboard. Each of the others has four neighbours that were: where all of
these entered by the same face and were ended by the same solid, it would be, too.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole, Yes
from stackview.sight.clear_bodies import ClearBodies
from stackview.sight.paths import LOST, OFF, Met, first_met, followed
from stackview.sight.refraction import dot

FAN_STEP = (2.0, 1.0)
"""First step of the fan in bearing and elevation [°]."""
COLUMNS, ROWS = round(360.0 / FAN_STEP[0]), round(180.0 / FAN_STEP[1])
# Off all the even bearings at which is looked, so that no ray of the fan runs along one.
_ASIDE = 0.0731
_BESIDE = ((1, 0), (0, 1), (-1, 0), (0, -1))
_ROUND = (*_BESIDE, (1, 1), (-1, 1), (-1, -1), (1, -1))


@dataclass(frozen=True, slots=True, eq=False)
class Sent:
    """Rays of the fan: where in the lattice, which faces they met (0: none to count), and how they leave.

    at : (r, 2) steps in bearing and elevation; point : (r,); faces : (r,); places, directions : (r, 3)
    """

    point: Whole
    at: Floats
    faces: NDArray[np.uint64]
    places: Floats
    directions: Floats

    def columns(self) -> tuple[NDArray[Any], ...]:
        """All arrays, in order."""
        return self.point, self.at, self.faces, self.places, self.directions

    def chosen(self, index: Whole) -> "Sent":
        """These of the rays, in this order; an index of any shape gives rays of that shape."""
        return Sent(*(column.take(index, axis=0) for column in self.columns()))


def directions_at(at: Floats) -> Floats:
    """Unit vectors (…, 3) at places (…, 2) of the lattice."""
    bearing = np.radians(at[..., 0] * FAN_STEP[0] + _ASIDE)
    elevation = np.radians(at[..., 1] * FAN_STEP[1] - 90.0)
    level = np.cos(elevation)
    return np.stack([np.sin(bearing) * level, -np.cos(bearing) * level, np.sin(elevation)], axis=-1)


class Sender:
    """Sends rays from light points at ``places`` (p, 3) [mm] that face ``fronts`` (p, 3)."""

    def __init__(self, bodies: ClearBodies, places: Floats, fronts: Floats) -> None:
        self.bodies = bodies
        # Clear of whatever the point sits on, by more than the rounding of 32-bit rays.
        self.places = places + OFF * fronts
        self.fronts = fronts

    def __call__(self, point: Whole, at: Floats) -> Sent:
        """Follow rays from points (r,) through places (r, 2) of the lattice; none goes out behind a point's back."""
        way = directions_at(at)
        rays = Sent(point, at, np.zeros(len(at), np.uint64), self.places[point], way.copy())
        ahead = self._ahead(point, way)
        found = followed(self.bodies, rays.places[ahead], way[ahead])
        rays.faces[ahead], rays.places[ahead], rays.directions[ahead] = (
            found.faces,
            found.places,
            found.directions,
        )
        return rays

    def _ahead(self, point: Whole, way: Floats) -> Whole:
        return np.flatnonzero(dot(way.T, self.fronts[point].T) > 0.0)

    def first_met(self, rays: Sent) -> Met:
        """What rays that were not yet followed meet first; −1 also where they would go out behind the back."""
        count = len(rays.point)
        met = Met(np.full(count, -1), np.zeros(count, np.float32), np.zeros(count, np.float32))
        ahead = self._ahead(rays.point, rays.directions)
        found = first_met(self.bodies, rays.places[ahead], rays.directions[ahead])
        met.triangle[ahead], met.u[ahead], met.v[ahead] = found.triangle, found.u, found.v
        return met

    def on(self, rays: Sent, met: Met, which: Whole) -> Whole:
        """Follow these of the rays from what they meet first on, written into ``rays``; returns what ended them."""
        found = followed(self.bodies, rays.places[which], rays.directions[which], met.chosen(which))
        rays.faces[which], rays.places[which], rays.directions[which] = (
            found.faces,
            found.places,
            found.directions,
        )
        return found.ends


def first_rays(send: Sender) -> Sent:
    """Rays at all places of the first lattice, in order of point, column and row."""
    shape = (len(send.places), COLUMNS, ROWS + 1)
    point, column, row = (index.ravel() for index in np.indices(shape))
    at = np.stack([column, row], axis=1).astype(float)
    way = np.tile(directions_at(at[: shape[1] * shape[2]]), (shape[0], 1))
    rays = Sent(point, at, np.zeros(len(at), np.uint64), send.places[point], way)
    met = send.first_met(rays)
    bodies = send.bodies
    clear = (met.triangle >= 0) & bodies.open[met.triangle]
    by = np.where(clear, bodies.surface[met.triangle], -1).reshape(shape)
    enters, ends, sent = by >= 0, np.full(shape, LOST), np.zeros(shape, bool)

    def follow(wanted: Yes) -> bool:
        which = np.flatnonzero(wanted & enters & ~sent)
        sent.flat[which] = True
        ends.flat[which] = send.on(rays, met, which)
        return len(which) > 0

    follow(((column + row) % 2 == 0).reshape(shape))
    follow(~_alike(by, ends, sent))
    while follow(
        np.logical_or.reduce([_beside((rays.faces != 0).reshape(shape), *s, False) for s in _ROUND])
    ):
        pass
    return rays


def _alike(by: Whole, ends: Whole, sent: Yes) -> Yes:
    """Whether all that was sent beside a place went in by its face and ended alike; given up is like anything."""
    alike, one = np.ones(by.shape, bool), np.full(by.shape, LOST)
    any_by = np.zeros(by.shape, bool)
    for step in _BESIDE:
        other = np.where(_beside(sent, *step, False), _beside(ends, *step, LOST), LOST)
        alike &= (other == one) | (other == LOST) | (one == LOST)
        one = np.where(one == LOST, other, one)
        any_by |= _beside(np.where(sent, by, -1), *step, -1) == by
    return alike & any_by


def _beside(grid: NDArray[Any], aside: int, up: int, none: Any) -> NDArray[Any]:
    """What stands in a lattice (p, columns, rows) so many steps on from each place; columns go round."""
    found = np.full_like(grid, none)
    turned = np.roll(grid, -aside, axis=1)
    rows = grid.shape[2]
    found[:, :, max(-up, 0) : rows - max(up, 0)] = turned[:, :, max(up, 0) : rows - max(-up, 0)]
    return found
