"""Ways of light, followed with Embree in batches: from an eye to the light points, or from these to the eyes.

Luminance over n² is kept along a way, and a sanded face's walk is the same in both directions (Heitz et al. 2016;
Walter et al. 2007, eq. 21), so that one set of faces serves both. What differs is where a way began and what
it is joined to at every face that spreads light: that is its ``WayEnds``.
"""

from dataclasses import dataclass, replace
from enum import IntEnum
from typing import Protocol

import numpy as np

from stackview.arrays import Ints, Singles, Whole, Yes
from stackview.sight.refraction import dot
from stackview.spots.faces import Faces

_MOST_FACES = 120
_ROULETTE, _GOES_ON = 8, np.float32(0.95)
"""Ways go on with this chance from so many faces on; their weight makes up for it."""


class ByPlate(IntEnum):
    """What a level clear plate has done to light since a face spread it, step by step.

    Its end states are those that :mod:`stackview.spots.by_clear` joins light points by.
    """

    NONE = 0
    NEAR = 1
    """Mirrored it in the face that it met."""
    WITHIN = 2
    THROUGH = 3
    TURNED = 4
    """Mirrored it in the far face, from within."""
    FAR = 5
    """And let it out where it came in."""
    OTHER = 6
    SPREAD = 7
    """As none, where the first face that spread it is one that it came to by a plate alone, or that light by clear
    acrylic is looked up on."""


_NEXT = np.full((len(ByPlate), 2, 2), ByPlate.OTHER, np.int32)
"""What comes of each when a level clear face is met: from inside?, mirrored?"""
_NEXT[[ByPlate.NONE, ByPlate.SPREAD], 0] = ByPlate.WITHIN, ByPlate.NEAR
_NEXT[ByPlate.WITHIN, 1] = ByPlate.THROUGH, ByPlate.TURNED
_NEXT[ByPlate.TURNED, 1, 0] = ByPlate.FAR
_WHOLE = np.isin(np.arange(len(ByPlate)), [ByPlate.NEAR, ByPlate.THROUGH, ByPlate.FAR])


@dataclass(frozen=True, slots=True, eq=False)
class Arrived:
    """Light that came along ways (n,): where it is seen, of which light point, how much [cd/m²].

    cell : as the ends know it; even : whether it came by a matt face, and so is spread out by itself;
    plain : whether it is a light point's face, seen through faces that pass light unspread.
    """

    cell: Ints
    led: Ints
    value: Singles
    even: Yes
    plain: Yes

    def only(self, which: Yes) -> "Arrived":
        """Some of it."""
        return Arrived(*(getattr(self, name)[which] for name in self.__slots__))

    def moved(self, by: int) -> "Arrived":
        """The same in cells of other numbers."""
        return replace(self, cell=self.cell + np.int32(by))


@dataclass(slots=True, eq=False)
class Going:
    """Ways that still go on: place [mm] and travel (3, n), and (n,) weight, and where each began.

    colour : (3, n) what the faces met have made of grey light, at its luminance;
    straight : whether the last face passed it unspread; began_straight : whether the first one did;
    plain : whether none has spread it; matt : whether it met a matt face; mark : by which it is known at the next
    face, where it went on within acrylic just now, else −1; by : what level clear plates have done to it since;
    within : whether it is in acrylic; caught : whether the last face that spread it is one on which light by clear
    acrylic is looked up (:mod:`stackview.spots.caught_light`).
    """

    at: Singles
    travel: Singles
    weight: Singles
    colour: Singles
    origin: Ints
    straight: Yes
    began_straight: Yes
    plain: Yes
    matt: Yes
    mark: Ints
    by: Ints
    within: Yes
    caught: Yes

    def only(self, which: Yes | Whole) -> "Going":
        """Some of the ways, as arrays of their own."""
        which = np.flatnonzero(which) if which.dtype == np.bool_ else which
        return Going(*(getattr(self, name).take(which, axis=-1) for name in self.__slots__))

    def turned(
        self,
        at: Singles,
        travel: Singles,
        straight: Yes,
        first: bool,
        mark: Ints | None = None,
        by: Ints | None = None,
        within: Yes | None = None,
        caught: Yes | None = None,
    ) -> None:
        """Go on from a face, passed unspread or not; by ``mark`` they are known at the next one.

        Where they are in acrylic or in air is as it was, unless it is told.
        """
        if by is None:
            known = self.by_a_plate if caught is None else self.by_a_plate | caught
            spread = np.where(self.plain & known, np.int32(ByPlate.SPREAD), np.int32(ByPlate.NONE))
            by = np.where(straight, np.int32(ByPlate.OTHER), spread)
        self.by = by
        self.at, self.travel, self.straight = at, travel, straight
        self.plain = self.plain & straight
        self.mark = np.full(len(straight), -1, np.int32) if mark is None else mark
        self.caught = self.caught & straight if caught is None else np.where(straight, self.caught, caught)
        if within is not None:
            self.within = within
        if first:
            self.began_straight = straight

    @property
    def by_a_plate(self) -> Yes:
        """Whether a level clear plate alone has let them through or mirrored them since a face spread them (n,)."""
        return np.asarray(_WHOLE[self.by])

    def at_clear(self, level: Yes, inside: Yes, mirrored: Yes) -> Ints:
        """What is ``by`` after a clear face, level or not, that is met from inside or not, and mirrors them or not."""
        after = _NEXT[self.by, inside.astype(np.intp), mirrored.astype(np.intp)]
        return np.where(level, after, np.int32(ByPlate.OTHER))


@dataclass(slots=True, eq=False)
class FacesMet:
    """What ways met: (3, n) outward normals, of the flat triangle and of the curve; the triangle; from inside? (n,).

    place : (2, n) where on the triangle, by its second and third corner's share.
    """

    triangle: Ints
    flat: Singles
    normal: Singles
    inside: Yes
    place: Singles

    def only(self, which: Whole) -> "FacesMet":
        """Some of them."""
        return FacesMet(*(getattr(self, name).take(which, axis=-1) for name in self.__slots__))


class WayEnds(Protocol):
    """Where ways lead to: what they are joined to at a face, and what is seen when they come upon something."""

    def come_upon(self, going: Going, met: FacesMet) -> None:
        """Ways met these faces."""

    def after_first(self, going: Going) -> Going:
        """Those of the ways past their first face that can still matter."""


class FaceWork(Protocol):
    """What one kind of face does to the ways that meet it; ``first`` tells whether it is their first face."""

    def __call__(self, going: Going, met: FacesMet, first: bool) -> Going:
        """The ways that go on."""


def begun(at: Singles, travel: Singles, weight: Singles, origin: Ints) -> Going:
    """Ways (3, n) that nothing has met yet."""
    no, none = np.zeros(len(origin), np.bool_), np.full(len(origin), -1, np.int32)
    return Going(
        at,
        travel,
        weight,
        np.ones(at.shape, np.float32),
        origin,
        no,
        no,
        ~no,
        no,
        none,
        np.zeros(len(origin), np.int32),
        no,
        no,
    )


def gone_on(parts: list[Going]) -> Going:
    """Ways of several kinds of face together, at least of one."""
    if len(parts) == 1:
        return parts[0]
    return Going(
        *(np.concatenate([getattr(part, name) for part in parts], axis=-1) for name in Going.__slots__)
    )


def follow(
    faces: Faces, ends: WayEnds, work: dict[int, FaceWork], going: Going, chance: np.random.Generator
) -> None:
    """Follow ways from face to face until none goes on.

    ``work`` holds, for each :class:`stackview.spots.faces.Does`, what is to be done there.
    """
    for depth in range(_MOST_FACES):
        if not len(going.origin):
            return
        going, met = _met(faces, going)
        ends.come_upon(going, met)
        does = faces.does[met.triangle]
        parts = []
        for kind, worked in work.items():
            which = np.flatnonzero(does == kind)
            if len(which):
                parts.append(worked(going.only(which), met.only(which), depth == 0))
        if not parts:
            return
        going = gone_on(parts)
        if depth == 0:
            going = ends.after_first(going)
        if not going.weight.all():
            going = going.only(going.weight > 0.0)
        if depth >= _ROULETTE:
            going = going.only(chance.random(len(going.origin), np.float32) < _GOES_ON)
            going.weight = going.weight / _GOES_ON


def _met(faces: Faces, going: Going) -> tuple[Going, FacesMet]:
    """The ways that meet anything, led there, and what they meet."""
    some, distance, met = lines_met(faces, going.at, going.travel)
    going = going.only(some)
    going.at = going.at + distance * going.travel
    return going, met


def lines_met(faces: Faces, at: Singles, travel: Singles) -> tuple[Whole, Singles, FacesMet]:
    """Which of the lines from ``at`` along ``travel`` (3, n) meet anything, after how far [mm], and what."""
    hits = faces.target.nearest(np.ascontiguousarray(at.T), np.ascontiguousarray(travel.T))
    some = np.flatnonzero(hits.triangle >= 0)
    triangle, u, v = hits.triangle[some], hits.u[some], hits.v[some]
    bent = faces.bent.take(triangle, axis=2)
    normal = bent[:, 0] * (1.0 - u - v) + bent[:, 1] * u + bent[:, 2] * v
    normal /= np.maximum(np.sqrt(dot(normal, normal)), np.float32(1e-6))
    flat = faces.flat.take(triangle, axis=1)
    inside = dot(flat, travel.take(some, axis=1)) > 0.0
    return some, hits.distance[some], FacesMet(triangle, flat, normal, inside, np.stack([u, v]))
