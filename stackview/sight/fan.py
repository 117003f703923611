"""A fan of rays from one light point, finer where its light leaves the lamp through clear acrylic.

The fan is a lattice of bearings and elevations. Where rays at a cell's corners met the same
faces in the same order, all of its light did; where they did not, the cell is divided, and in
the end the last ray that still met those faces is found by halving along the cell's sides.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Whole
from stackview.sight.clear_bodies import ClearBodies
from stackview.sight.first_rays import (
    COLUMNS,
    FAN_STEP,
    ROWS,
    Sender,
    Sent,
    directions_at,
    first_rays,
    lattice_number,
    steps_on,
)
from stackview.sight.paths import faces_met
from stackview.sight.refraction import dot

_LEVELS = 1
"""How often cells are halved where their corners differ."""
_HALVINGS = 4
"""And then the stretch along their sides."""
LEAST_IMAGE = 1.0
"""Images smaller than this, as their light leaves the point, are left out [square degrees]."""
_WIDEST_TUBES = (4.0, 12.0)
"""Light that spreads over more than this at its exit is divided, or in the finest cells left out [°]."""

_CORNERS = np.array([[0, 0], [1, 0], [1, 1], [0, 1]])
_HALVES = np.array([[0, 1, 2], [0, 2, 3]])


@dataclass(frozen=True, slots=True, eq=False)
class Triangles:
    """Thin three-sided tubes of light whose corner rays met the same faces.

    point : (k,); faces : (k,); sent : (k, 3, 3) directions at the light point; places, directions :
    (k, 3, 3) of the corner rays where they leave the last clear face [mm].
    """

    point: Whole
    faces: NDArray[np.uint64]
    sent: Floats
    places: Floats
    directions: Floats

    def chosen(self, index: Whole) -> "Triangles":
        """These of the triangles."""
        return Triangles(*(getattr(self, name).take(index, axis=0) for name in self.__slots__))

    def angles(self) -> Floats:
        """Solid angle of each as its light leaves the point (k,) [sr]; they are too thin to be curved."""
        one, two, three = self.sent.transpose(1, 2, 0)
        (ax, ay, az), (bx, by, bz) = two - one, three - one
        across = np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx])
        return np.asarray(np.sqrt(dot(across, across)) / 2.0)


def fan(bodies: ClearBodies, places: Floats, fronts: Floats) -> Triangles:
    """All light that leaves through clear acrylic from light points at ``places`` (p, 3) facing ``fronts``."""
    send = Sender(bodies, places, fronts)
    whole, divided = _first_cells(send)
    parts = [_halved(whole)]
    for level in range(1, _LEVELS + 1):
        cells = _without_specks(_corners(send, divided, 0.5**level), 0.5**level)
        last = level == _LEVELS
        alike = _alike(cells.faces)
        alike[alike] = _spread(cells.directions[alike]) < _WIDEST_TUBES[last]
        parts.append(_halved(cells.chosen(np.flatnonzero(alike))))
        mixed = cells.chosen(np.flatnonzero(~alike & (cells.faces != 0).any(axis=1)))
        divided = _quarters(mixed.point[:, 0], mixed.at[:, 0], 0.5 ** (level + 1))
    parts.append(_clipped(send, _halved(mixed)))
    found = _joined(parts)
    return _sizeable(
        Triangles(
            found.point[:, 0], found.faces[:, 0], directions_at(found.at), found.places, found.directions
        )
    )


def _first_cells(send: Sender) -> tuple[Sent, tuple[Whole, Floats]]:
    """The first lattice: cells (c, 4) that are whole already, and point and place of those to divide, in quarters."""
    lit = first_rays(send)
    number, faces = lattice_number(lit), np.zeros(len(send.places) * COLUMNS * (ROWS + 1), np.uint64)
    faces[number] = lit.faces
    # A cell has the number of its first corner; it can hold light where any of its corners does.
    touched = _round(number, ((0, 0), (-1, 0), (0, -1), (-1, -1)))
    corner = np.stack([steps_on(touched, *step) for step in _CORNERS.tolist()], axis=-1)
    alike = _alike(faces[corner])
    ray = np.searchsorted(number, corner[alike])
    alike[alike] = _spread(lit.directions[ray]) < _WIDEST_TUBES[0]
    wide = _round(touched[~alike], tuple((aside, up) for aside in (-1, 0, 1) for up in (-1, 0, 1)))
    kept = np.flatnonzero(alike & ~np.isin(touched, wide))
    rest, row = np.divmod(wide, ROWS + 1)
    point, column = np.divmod(rest, COLUMNS)
    whole = lit.chosen(np.searchsorted(number, corner[kept]))
    return whole, _quarters(point, np.stack([column, row], axis=1).astype(float), 0.5)


def _round(number: Whole, steps: Sequence[tuple[int, int]]) -> Whole:
    """Numbers of all cells so many columns and rows on from any of these, each once, in order."""
    row = number % (ROWS + 1)
    return np.unique(
        np.concatenate(
            [steps_on(number[(row + up >= 0) & (row + up < ROWS)], aside, up) for aside, up in steps]
        )
    )


def _quarters(point: Whole, at: Floats, size: float) -> tuple[Whole, Floats]:
    """Four cells of a side of ``size`` [steps] for each with its first corner at (c, 2)."""
    return np.repeat(point, 4), (at[:, None] + size * _CORNERS).reshape(-1, 2)


def _corners(send: Sender, cells: tuple[Whole, Floats], size: float) -> Sent:
    """Rays (c, 4) at the corners of cells with a side of ``size`` [steps]; each ray is sent once."""
    point, at = cells
    units = np.rint((at[:, None] / size) + _CORNERS).astype(np.int64)
    wide, high = round(COLUMNS / size) + 1, round(ROWS / size) + 1
    key = (point[:, None] * wide + units[..., 0]) * high + units[..., 1]
    found, place = np.unique(key, return_inverse=True)
    rest, row = np.divmod(found, high)
    number, column = np.divmod(rest, wide)
    rays = send(number, np.stack([column, row], axis=1) * size)
    return rays.chosen(place.reshape(key.shape))


def _alike(faces: NDArray[np.uint64]) -> NDArray[np.bool_]:
    """Whether all corners (…, n) left through clear acrylic by the same faces."""
    return np.asarray((faces[..., 0] != 0) & (faces == faces[..., :1]).all(axis=-1))


def _spread(directions: Floats) -> Floats:
    """Greatest angle between the first and any other of some directions (…, n, 3) [°]."""
    between = np.moveaxis(directions - directions[..., :1, :], -1, 0)
    apart = np.sqrt(dot(between, between).max(axis=-1, initial=0.0))
    return np.asarray(np.degrees(2.0 * np.arcsin(np.minimum(apart / 2.0, 1.0))))


def _halved(cells: Sent) -> Sent:
    """Cells (c, 4) of rays as triangles (2c, 3)."""
    return Sent(*(column[:, _HALVES].reshape(-1, 3, *column.shape[2:]) for column in cells.columns()))


def _clipped(send: Sender, triangles: Sent) -> Sent:
    """The parts of triangles (t, 3) of mixed cells whose light met the same faces as that of a corner."""
    whole = _alike(triangles.faces)
    whole[whole] = _spread(triangles.directions[whole]) < _WIDEST_TUBES[1]
    turned: list[tuple[Sent, Sent, Sent]] = []
    alone: list[NDArray[np.bool_]] = []
    for corner in range(3):
        # Each kind of path once a triangle: at the first corner that has it.
        own = triangles.faces[:, corner]
        new = (own != 0) & ~(triangles.faces[:, :corner] == own[:, None]).any(axis=1)
        inside = triangles.faces == own[:, None]
        chosen = np.flatnonzero(new & ~inside.all(axis=1))
        single = inside[chosen].sum(axis=1) == 1
        # From the one that is inside on, or from the one after that which is outside.
        first = np.where(single, corner, np.argmin(inside[chosen], axis=1) + 1)
        turned.append(_turned(triangles.chosen(chosen), first))
        alone.append(single)
    start, second, third = (_joined(rays) for rays in zip(*turned, strict=True))
    is_single = np.concatenate(alone)
    one, two = np.flatnonzero(is_single), np.flatnonzero(~is_single)
    ends = _last(
        send,
        _joined([start, start.chosen(one), second.chosen(two)]),
        _joined([third, second.chosen(one), third.chosen(two)]),
    )
    size = len(is_single)
    near, far = ends.chosen(np.arange(size)), ends.chosen(np.arange(size, size + len(one)))
    beside = ends.chosen(np.arange(size + len(one), 2 * size))
    return _joined(
        [
            triangles.chosen(np.flatnonzero(whole)),
            _side_by_side(start.chosen(one), far, near.chosen(one)),
            _side_by_side(start.chosen(two), second.chosen(two), beside),
            _side_by_side(start.chosen(two), beside, near.chosen(two)),
        ]
    )


def _turned(triangles: Sent, first: Whole) -> tuple[Sent, Sent, Sent]:
    """Corners of triangles (t, 3), in order from corner number ``first`` (t,) on."""
    number = np.arange(len(first))
    one, two, three = (
        Sent(*(column[number, (first + step) % 3] for column in triangles.columns())) for step in range(3)
    )
    return one, two, three


def _joined(parts: Sequence[Sent]) -> Sent:
    return Sent(*(np.concatenate(columns) for columns in zip(*(p.columns() for p in parts), strict=True)))


def _side_by_side(*rays: Sent) -> Sent:
    """Corner by corner rays (t,) as triangles (t, 3)."""
    return Sent(
        *(np.stack(columns, axis=1) for columns in zip(*(one.columns() for one in rays), strict=True))
    )


def _last(send: Sender, inside: Sent, outside: Sent) -> Sent:
    """The last ray on the way from ``inside`` to ``outside`` that met the faces of ``inside``, by halving."""
    side = _side_numbers(inside.point, inside.at, outside.at)
    _, chosen, place = np.unique(side, return_index=True, return_inverse=True)
    best, beyond = inside.chosen(chosen), outside.at[chosen]
    wanted = best.faces
    for _ in range(_HALVINGS):
        middle = send(best.point, (best.at + beyond) / 2.0, faces_met(wanted))
        same = middle.faces == wanted
        beyond = np.where(same[:, None], beyond, middle.at)
        best = Sent(
            *(
                np.where(same.reshape((-1,) + (1,) * (new.ndim - 1)), new, old)
                for new, old in zip(middle.columns(), best.columns(), strict=True)
            )
        )
    return best.chosen(place)


def _side_numbers(point: Whole, begin: Floats, end: Floats) -> Whole:
    """A number for each way (s,) from one corner (s, 2) of the finest cells to another of the same cell."""
    first, last = (np.rint(at * 2.0**_LEVELS).astype(np.int64) for at in (begin, end))
    wide, high = (COLUMNS << _LEVELS) + 1, (ROWS << _LEVELS) + 1
    step = (last - first + 1) @ np.array([3, 1])
    return np.asarray(((point * wide + first[:, 0]) * high + first[:, 1]) * 9 + step)


def _without_specks(cells: Sent, size: float) -> Sent:
    """Cells (c, 4) without the light of images that take up too few of their corners to be kept."""
    image = _images(np.repeat(cells.point[:, 0], 4), cells.faces.ravel())
    level = np.cos(np.radians(cells.at[..., 1] * FAN_STEP[1] - 90.0)).ravel()
    square = np.bincount(image, weights=level)[image] * (FAN_STEP[0] * FAN_STEP[1] * size**2 / 4.0)
    faces = np.where(square.reshape(cells.faces.shape) < LEAST_IMAGE / 2.0, np.uint64(0), cells.faces)
    return replace(cells, faces=faces)


def _images(point: Whole, faces: NDArray[np.uint64]) -> Whole:
    """Number of the image that each ray or triangle belongs to: one for each point and order of faces."""
    key = (point.astype(np.uint64) * np.uint64(0xD1B54A32D192ED03)) ^ faces
    return np.asarray(np.unique(key, return_inverse=True)[1].reshape(-1), np.int64)


def _sizeable(found: Triangles) -> Triangles:
    """Leave out triangles that spread too wide, and then images that are too small in all."""
    found = found.chosen(np.flatnonzero(_spread(found.directions) < _WIDEST_TUBES[1]))
    image = _images(found.point, found.faces)
    size = np.bincount(image, weights=found.angles())
    return found.chosen(np.flatnonzero(size[image] >= LEAST_IMAGE * np.radians(1.0) ** 2))
