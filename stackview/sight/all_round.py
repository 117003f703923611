"""Each light point's open bands all round, so close that they can be asked at any bearing and any distance.

Bands are exact at the bearings where they are worked out. Between two of these, the ends of a band lie on
the planes through the light point and the edges that bound it, as long as both bearings tell of
the same bands: midway, the planes of one come to the same as those of the other. Where they do not, the
bearings between are worked out too, down to :data:`BEARING_STEP`. What shows of a point above one place
of the floor is then a look into a table and a few products, for planes rise evenly along every line.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Ints, Whole, Yes
from stackview.curves.ranges import ranges
from stackview.light.points import LightPoints
from stackview.one_line import one_line
from stackview.sight.bands import (
    OWN_BACK,
    POLE,
    Kind,
    bands_among,
    each_run_at_once,
    regions,
    sorted_bearings,
    taken_at,
)
from stackview.sight.crossings import TURN, Silhouettes, silhouettes
from stackview.sight.scene import Scene

_FIRST, _DIVIDED = 720, (4, 4, 2)
"""Bearings that are looked at first, and into how many parts a gap between two looks is divided, time after time."""
BEARING_STEPS = _FIRST * 4 * 4 * 2
"""Bearings all round that are told apart."""
BEARING_STEP = 360.0 / BEARING_STEPS
"""Where a band begins or ends sideways is known to this angle [°]."""
_ALIKE = 3e-5
"""Ends of bands this close midway between two bearings are the same [rad]; 0.1 mm at 4 m."""
_FAR, _UPRIGHT = 1e9, 1e6
"""Height of a band's end that is straight up [mm]; steeper planes than this [tangent] count as upright."""
_TOGETHER = 8
"""Light points worked out together: the quickest of what was tried."""


@dataclass(frozen=True, slots=True, eq=False)
class AllRound:
    """Bare and veiled bands of many light points along straight lines; arrays are read-only.

    places, directions : (n, 3) of the points, a hair in front of their faces [mm]
    look : (n, BEARING_STEPS) which of the looks below serves each bearing
    first, count : (q,) each look's bands; kind : (m,) of :class:`Kind`
    low, high : (3, m) of each band's two ends c, p and q: its height above (x, y) is c + p·x + q·y [mm]
    """

    places: Floats
    directions: Floats
    look: Ints
    first: Whole
    count: Whole
    kind: NDArray[np.int8]
    low: Floats
    high: Floats

    __repr__ = one_line

    def __post_init__(self) -> None:
        for name in self.__slots__:
            getattr(self, name).setflags(write=False)

    def __len__(self) -> int:
        return len(self.places)

    def turned_to(self, x: Floats, y: Floats) -> Yes:
        """Which points may show to eyes above (x, y) (b,), at whatever height: (n, b)."""
        along = self.directions[:, :1] * x + self.directions[:, 1:2] * y
        along -= (self.places[:, :2] * self.directions[:, :2]).sum(axis=1)[:, None]
        return np.asarray((along > 0.0) | (self.directions[:, 2:] != 0.0))

    def over(self, point: Whole, x: Floats, y: Floats) -> tuple[Whole, Whole]:
        """The bands of points (k,) above (x, y) (k,), pair by pair: number of the pair, and of the band."""
        bearing = np.arctan2(x - self.places[point, 0], self.places[point, 1] - y)
        step = np.rint(bearing * (BEARING_STEPS / TURN)).astype(np.int64)
        step += BEARING_STEPS * (step < 0)
        look = self.look[point, step]
        count = self.count[look]
        return np.repeat(np.arange(len(point)), count), ranges(self.first[look], count)


def all_round(
    scene: Scene, points: LightPoints, *, progress: Callable[[int], None] | None = None
) -> AllRound:
    """The bands of every light point, from the middle of its face.

    ``progress`` is called with the number of light points done since the last call.
    """
    places, looked = taken_at(points), regions(scene, points)
    directions = np.array(points.directions)

    def one(run: range) -> tuple["_Looks", Ints]:
        seen = silhouettes(scene, looked(run), places[run])
        return _until_settled(_Faces(scene, seen, places[run], directions[run]))

    looks, numbers = [_Looks.none()], [np.zeros((0, BEARING_STEPS), np.int32)]
    before = 0
    for run, (found, number) in each_run_at_once(one, len(points), _TOGETHER):
        looks.append(found)
        numbers.append(number + np.int32(before))
        before += len(found.count)
        if progress is not None:
            progress(len(run))
    count = np.concatenate([found.count for found in looks])
    return AllRound(
        places,
        directions,
        np.concatenate(numbers),
        np.cumsum(count) - count,
        count,
        np.concatenate([found.kind for found in looks]),
        np.concatenate([found.low for found in looks], axis=1),
        np.concatenate([found.high for found in looks], axis=1),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Faces:
    """A few light points and the silhouettes seen from them."""

    scene: Scene
    seen: Silhouettes
    places: Floats
    directions: Floats

    def looks(self, wanted: Yes) -> "_Looks":
        """Bands at the bearings that are wanted (p, BEARING_STEPS) of each."""
        at = np.flatnonzero(wanted.any(axis=0))
        bearings = sorted_bearings(np.radians(at * BEARING_STEP))
        found = bands_among(self.seen, self.directions, bearings, wanted[:, at])
        shows = found[4] != Kind.GLAZED
        place, bearing, low, high, kind, low_edge, high_edge = (column[shows] for column in found)
        key = np.flatnonzero(wanted)
        own = np.searchsorted(key, place * BEARING_STEPS + at[bearing])
        return _Looks(
            key,
            np.bincount(own, minlength=len(key)),
            kind.astype(np.int8),
            self._planes(place, at[bearing], low_edge, low),
            self._planes(place, at[bearing], high_edge, high),
        )

    def _planes(self, place: Whole, step: Whole, edge: Whole, elevation: Floats) -> Floats:
        """The planes (3, m) of bands' ends, through the light points."""
        at = self.places[place]
        found = np.zeros((3, len(edge)))
        real = np.flatnonzero(edge >= 0)
        tail, head = (
            (self.scene.vertices[end[edge[real]]] - at[real]).T for end in (self.scene.tail, self.scene.head)
        )
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            upright = 1.0 / (tail[0] * head[1] - tail[1] * head[0])
            found[1, real] = (tail[2] * head[1] - tail[1] * head[2]) * upright
            found[2, real] = (tail[0] * head[2] - tail[2] * head[0]) * upright
            back = np.flatnonzero(edge == OWN_BACK)
            way = self.directions[place[back]]
            found[1:, back] = -way[:, :2].T / way[:, 2]
            steep = ~(np.abs(found).sum(axis=0) < _UPRIGHT) & (edge != POLE)
        # An edge along the half-plane: its own tangent there, as a plane square to the bearing.
        tangent, bearing = np.tan(np.radians(elevation[steep])), np.radians(step[steep] * BEARING_STEP)
        found[1:, steep] = tangent * np.sin(bearing), -tangent * np.cos(bearing)
        found[0] = at[:, 2] - found[1] * at[:, 0] - found[2] * at[:, 1]
        found[0, edge == POLE] = np.copysign(_FAR, elevation[edge == POLE])
        return found


@dataclass(frozen=True, slots=True, eq=False)
class _Looks:
    """Bands at some bearings of some places.

    key : (q,) rising, place · BEARING_STEPS + step; count : (q,) bands of each; kind, low, high : as in
    :class:`AllRound`, look after look
    """

    key: Whole
    count: Whole
    kind: NDArray[np.int8]
    low: Floats
    high: Floats

    @classmethod
    def none(cls) -> "_Looks":
        """No bands of no place."""
        none = np.zeros(0, np.int64)
        return cls(none, none, none.astype(np.int8), np.zeros((3, 0)), np.zeros((3, 0)))

    def joined(self, other: "_Looks") -> "_Looks":
        """Both together."""
        key = np.concatenate([self.key, other.key])
        count = np.concatenate([self.count, other.count])
        order = np.argsort(key, kind="stable")
        at = ranges((np.cumsum(count) - count)[order], count[order])
        kind = np.concatenate([self.kind, other.kind])[at]
        low, high = (
            np.concatenate(both, axis=1)[:, at] for both in ((self.low, other.low), (self.high, other.high))
        )
        return _Looks(key[order], count[order], kind, low, high)

    def same(self, begin: Whole, end: Whole, places: Floats) -> Yes:
        """Whether pairs of looks, by their keys (k,), tell of the same bands midway between their bearings."""
        one, other = np.searchsorted(self.key, begin), np.searchsorted(self.key, end)
        same = self.count[one] == self.count[other]
        first, pair = np.cumsum(self.count) - self.count, np.flatnonzero(same)
        count = self.count[one[pair]]
        left, right = ranges(first[one[pair]], count), ranges(first[other[pair]], count)
        place, step = np.divmod(begin[pair], BEARING_STEPS)
        ahead = (end[pair] - begin[pair]) % BEARING_STEPS
        middle, at = np.radians((step + ahead / 2.0) * BEARING_STEP), places[place]
        x, y = np.repeat(at[:, 0] + np.sin(middle), count), np.repeat(at[:, 1] - np.cos(middle), count)
        differ = self.kind[left] != self.kind[right]
        for ends in (self.low, self.high):
            far = np.abs(ends[0, left]) >= _FAR / 2.0
            tangents = [
                c + p * x + q * y - np.repeat(at[:, 2], count) for c, p, q in (ends[:, left], ends[:, right])
            ]
            differ |= np.abs(tangents[0] - tangents[1]) > np.where(
                far, _FAR / 2.0, _ALIKE * (1.0 + tangents[0] ** 2)
            )
        wrong = np.bincount(np.repeat(pair, count), weights=differ, minlength=len(same)) > 0
        return np.asarray(same & ~wrong)

    def nearest(self, places: int) -> Ints:
        """The look nearest to each step of each place: (places, BEARING_STEPS)."""
        place, step = np.divmod(self.key, BEARING_STEPS)
        first = np.searchsorted(place, np.arange(places))
        last = np.append(first[1:], len(place)) - 1
        following = np.arange(1, len(place) + 1)
        following[last] = first
        gap = (step[following] - step) % BEARING_STEPS
        own = gap // 2 + 1
        number = np.repeat(
            np.stack([np.arange(len(place)), following], axis=1).ravel(),
            np.stack([own, gap - own], axis=1).ravel(),
        )
        return number.reshape(places, BEARING_STEPS).astype(np.int32)


def _until_settled(faces: _Faces) -> tuple[_Looks, Ints]:
    """The looks of a few light points, as many as they ask for, and which of them serves each step."""
    places, step = len(faces.places), BEARING_STEPS // _FIRST
    wanted = np.zeros((places, BEARING_STEPS), dtype=bool)
    wanted[:, ::step] = True
    known, begin = faces.looks(wanted), np.flatnonzero(wanted)
    for parts in _DIVIDED:
        # Looks begin here, and the next ones are a step further on.
        place = begin // BEARING_STEPS
        end = place * BEARING_STEPS + (begin + step - place * BEARING_STEPS) % BEARING_STEPS
        begin = begin[~known.same(begin, end, faces.places)]
        if not len(begin):
            break
        step //= parts
        begin = (begin[:, None] + step * np.arange(parts)).ravel()
        wanted[:] = False
        wanted.ravel()[begin.reshape(-1, parts)[:, 1:]] = True
        known = known.joined(faces.looks(wanted))
    return known, known.nearest(places)
