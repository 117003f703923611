"""The rays of a fan, and the first lattice of them: only those are followed whose light can get through.

Every second ray of the lattice is followed, like the black fields of a chessboard. Each of the
others has four neighbours that were: where all of these went in by the same face, or none, and
were ended by the same solid, it would be, too. Where they differ it is looked at what it meets
first, and it is followed where it enters clear acrylic by a face that none of them went in by,
or where those that were followed did not end alike.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Ints, Whole, Yes
from stackview.sight.clear_bodies import ClearBodies
from stackview.sight.paths import FREE, LOST, OFF, RAYS_TOGETHER, Met, first_met, followed
from stackview.sight.refraction import dot

FAN_STEP = (2.0, 1.0)
"""First step of the fan in bearing and elevation [°]."""
COLUMNS, ROWS = round(360.0 / FAN_STEP[0]), round(180.0 / FAN_STEP[1])
# Off all the even bearings at which is looked, so that no ray of the fan runs along one.
_ASIDE = 0.0731
_BESIDE = ((1, 0), (0, 1), (-1, 0), (0, -1))
_ROUND = (*_BESIDE, (1, 1), (-1, 1), (-1, -1), (1, -1))
_UNKNOWN = -3
"""End of a ray that was not followed."""


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

    def __call__(self, point: Whole, at: Floats, most: NDArray[np.uint64] | None = None) -> Sent:
        """Follow rays from points (r,) through places (r, 2) of the lattice; none goes out behind a point's back.

        Those that meet more faces than ``most`` (r,) count as not getting out.
        """
        way = directions_at(at)
        rays = Sent(point, at, np.zeros(len(at), np.uint64), self.places[point], way.copy())
        ahead = np.flatnonzero(dot(way.T, self.fronts[point].T) > 0.0)
        most = None if most is None else most[ahead]
        found = followed(self.bodies, rays.places[ahead], way[ahead], most=most)
        rays.faces[ahead], rays.places[ahead], rays.directions[ahead] = (
            found.faces,
            found.places,
            found.directions,
        )
        return rays


def lattice() -> Floats:
    """All places (n, 2) of the first lattice, in order of column and row."""
    return np.indices((COLUMNS, ROWS + 1)).reshape(2, -1).T.astype(float)


def lattice_number(rays: Sent) -> Whole:
    """Number of each ray of the first lattice, in order of point, column and row; columns go round."""
    column, row = (rays.at[..., axis].astype(np.int64) for axis in range(2))
    return (rays.point * COLUMNS + column % COLUMNS) * (ROWS + 1) + row


def steps_on(number: Whole, aside: int, up: int) -> Whole:
    """Numbers of rays or cells of the first lattice so many columns and rows on; columns go round, rows do not."""
    rest, row = np.divmod(number, ROWS + 1)
    point, column = np.divmod(rest, COLUMNS)
    return np.asarray((point * COLUMNS + (column + aside) % COLUMNS) * (ROWS + 1) + row + up)


def first_rays(send: Sender) -> Sent:
    """The rays of the first lattice that leave the lamp through clear acrylic, in order of their numbers."""
    rays = _FirstRays(send)
    rays.follow(np.flatnonzero(rays.ahead & rays.even))
    rays.follow(rays.unlike(), sparing=True)
    done = 0
    while done < len(rays.lit):
        new, done = rays.lit[done:], len(rays.lit)
        number = np.unique(np.concatenate([near for found in new for near in rays.beside(found, _ROUND)]))
        rays.follow(number[rays.ahead[number] & (rays.ends[number] == _UNKNOWN)])
    return rays.found()


def _shifted(values: Ints, aside: int, up: int) -> Ints:
    """What the rays of the first lattice so many columns or rows on have (p, columns, rows); as :func:`steps_on`.

    Where the lattice ends, a ray's own value.
    """
    lattices = values.reshape(-1, COLUMNS, ROWS + 1)
    if aside:
        return np.roll(lattices, -aside, axis=1)
    found = lattices.copy()
    if up > 0:
        found[..., :-up] = lattices[..., up:]
    else:
        found[..., -up:] = lattices[..., :up]
    return found


class _FirstRays:
    """What has become of the first lattice's rays, by their numbers.

    ahead : (n,) whether it goes out before the point's back; even : (n,) whether it is a black field of
    the chessboard; by : (n,) surface by which it went into clear acrylic, −1 for none; ends : (n,) as of
    paths; lit : numbers of those that got through
    """

    def __init__(self, send: Sender) -> None:
        self.send = send
        self.at = lattice()
        self.ways = directions_at(self.at)
        # Written out: a matrix product would wake a pool of threads for next to no work.
        way, fronts = self.ways.T, send.fronts[:, :, None]
        self.ahead: Yes = (dot(fronts.transpose(1, 0, 2), way[:, None]) > 0.0).ravel()
        self.even = np.tile((self.at.sum(axis=1) % 2.0 == 0.0), len(send.places))
        self.by = np.full(len(self.ahead), -1, np.int32)
        self.ends = np.full(len(self.ahead), _UNKNOWN, np.int32)
        self.lit: list[Whole] = []
        self._sent: list[Sent] = []

    def beside(self, number: Whole, steps: tuple[tuple[int, int], ...]) -> list[Whole]:
        """Rays so many columns and rows on from some; themselves where the lattice ends."""
        row = number % (ROWS + 1)
        return [
            np.where((row + up >= 0) & (row + up <= ROWS), steps_on(number, aside, up), number)
            for aside, up in steps
        ]

    def unlike(self) -> Whole:
        """The rays not followed whose four neighbours did not all go in by one face, or none, and end alike."""
        (first_by, first_ends), *others = (
            (_shifted(self.by, *step), _shifted(self.ends, *step)) for step in _BESIDE
        )
        alike = (first_ends != _UNKNOWN) & ((first_ends != FREE) | (first_by < 0))
        for by, ends in others:
            alike &= (ends == first_ends) & (by == first_by)
        return np.flatnonzero(self.ahead & ~self.even & ~alike.ravel())

    def follow(self, number: Whole, *, sparing: bool = False) -> None:
        """Follow these of the rays; ``sparing``, only as far as their neighbours do not tell what becomes of them."""
        parts = [
            self._look(number[start : start + RAYS_TOGETHER])
            for start in range(0, len(number), RAYS_TOGETHER)
        ]
        if not parts:
            return
        at, triangle, u, v = (np.concatenate(columns) for columns in zip(*parts, strict=True))
        bodies = self.send.bodies
        if sparing:
            wanted = np.flatnonzero(~self._told(at, bodies.surface[triangle]))
            at, triangle, u, v = at[wanted], triangle[wanted], u[wanted], v[wanted]
        point, direction = np.divmod(at, len(self.at))
        found = followed(bodies, self.send.places[point], self.ways[direction], first=Met(triangle, u, v))
        self.by[at], self.ends[at] = bodies.surface[triangle], found.ends
        lit = np.flatnonzero(found.faces)
        if len(lit):
            self.lit.append(at[lit])
            self._sent.append(
                Sent(
                    point[lit],
                    self.at[direction[lit]],
                    found.faces[lit],
                    found.places[lit],
                    found.directions[lit],
                )
            )

    def _look(self, number: Whole) -> tuple[Whole, Whole, NDArray[np.float32], NDArray[np.float32]]:
        """Note what rays meet first that ends them; those that enter clear acrylic, and where."""
        bodies, (point, direction) = self.send.bodies, np.divmod(number, len(self.at))
        met = first_met(bodies, self.send.places.take(point, axis=0), self.ways.take(direction, axis=0))
        into = np.flatnonzero((met.triangle >= 0) & bodies.open[met.triangle])
        self.ends[number] = np.where(met.triangle < 0, FREE, bodies.body[met.triangle])
        self.ends[number[into]] = _UNKNOWN
        return number[into], met.triangle[into], met.u[into], met.v[into]

    def _told(self, number: Whole, surface: Whole) -> Yes:
        """Whether those beside a ray that were followed went in by its face and ended alike; given up is like anything."""
        alike, one = np.ones(len(number), bool), np.full(len(number), LOST, np.int32)
        any_by = np.zeros(len(number), bool)
        for near in self.beside(number, _BESIDE):
            other = np.where(self.by[near] >= 0, self.ends[near], LOST)
            alike &= (other == one) | (other == LOST) | (one == LOST)
            one = np.where(one == LOST, other, one)
            any_by |= self.by[near] == surface
        return alike & any_by

    def found(self) -> Sent:
        """All that got through, in order of their numbers."""
        none = Sent(
            np.zeros(0, np.int64),
            np.zeros((0, 2)),
            np.zeros(0, np.uint64),
            np.zeros((0, 3)),
            np.zeros((0, 3)),
        )
        columns = zip(none.columns(), *(sent.columns() for sent in self._sent), strict=True)
        every = Sent(*(np.concatenate(column) for column in columns))
        return every.chosen(np.argsort(lattice_number(every)))
