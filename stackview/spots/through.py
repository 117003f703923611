"""Light points seen through a second face: ways within acrylic are joined to one through the face behind.

The commonest way of light is from a light point by the bore into a plate and out by its rim, both sanded. Followed
from the eye it has to look straight at a light point, for so near before the bore the second face spreads little: one
way in thirty does, and brings all the light. So that from every place where ways may go on within acrylic a second
line is sent towards where a light point appears, and joined to it behind the next face. Ways that come there by
themselves are weighted against these lines by the densities of both (the balance heuristic: E. Veach, L. Guibas,
"Optimally combining sampling techniques for Monte Carlo rendering", SIGGRAPH 95), so that all light counts once
on the mean, whatever is guessed of where a light point appears.
"""

from dataclasses import dataclass, field

import numpy as np

from stackview.arrays import Ints, Singles, Whole, Yes
from stackview.glow.microsurface import walked
from stackview.sight.refraction import dot
from stackview.spots.faces import Does, Faces
from stackview.spots.images import Images
from stackview.spots.inwards import OFF_A_FACE, Inwards, frame_of, into, out_of, roughened
from stackview.spots.light_choice import Emitters, LightChoice
from stackview.spots.ways import FacesMet, Going, lines_met

_FLOOR = np.float32(1e-3)
_WIDER = np.float32(2.0)
"""So many widths of an image a face's lobe counts as wider, when light points are chosen by their middles."""


@dataclass(frozen=True, slots=True, eq=False)
class Joined:
    """Lines (n,) that reach a light point.

    way : which way each belongs to; led : the light point's number; begin : (3, n) where it leaves acrylic [mm];
    to, far : direction (3, n) and distance [mm] from there; value : light [cd/m²] if nothing stands between.
    """

    way: Whole
    led: Whole
    begin: Singles
    to: Singles
    far: Singles
    value: Singles


@dataclass(slots=True, eq=False)
class Through:
    """Joins ways to light points by the face behind, and weights what ways find there by themselves."""

    faces: Faces
    emitters: Emitters
    images: Images
    choice: LightChoice
    chance: np.random.Generator
    _before: list["_Places"] = field(default_factory=list)
    _now: list["_Places"] = field(default_factory=list)

    def next_faces(self) -> None:
        """Ways come to their next faces, and what was known of those before the last is let go."""
        self._before, self._now = self._now, []

    def joined(self, going: Going, inwards: Inwards) -> tuple[Ints, Joined]:
        """A line for each way, and the ways' marks for :meth:`share_found`, −1 where they go on in air."""
        count, chance = len(going.origin), self.chance
        near = self.images.near[self.choice.cube(inwards.at)].T
        seen = self._glimpse(inwards, near)
        first = self._now[-1].past if self._now else 0
        self._now.append(_Places(first, inwards, near, seen.total))
        mark = np.where(inwards.density > 0.0, first + np.arange(count, dtype=np.int32), np.int32(-1))
        upto = np.cumsum(seen.worth, axis=0)
        slot = (upto < chance.random(count, np.float32) * seen.total).sum(axis=0)
        at = np.minimum(slot, len(near) - 1), np.arange(count)
        axis, width, share, led = (
            seen.to[:, at[0], at[1]],
            seen.width[at],
            seen.worth[at] / seen.total,
            near[at],
        )
        way = _drawn_about(axis, width, chance)
        hit, distance, met = lines_met(self.faces, inwards.at, way)
        good = np.flatnonzero(
            (self.faces.does[met.triangle] == Does.SANDED) & met.inside & (share[hit] > 0.0)
        )
        some, distance, met = hit[good], distance[good], met.only(good)
        inwards, way, led = inwards.only(some), way.take(some, axis=1), led[some]
        own = into(inwards.frame, way)
        dense = share[some] * _lobe(dot(way, axis.take(some, axis=1)), width[some]) + inwards.about(own)
        begin = inwards.at + distance * way + OFF_A_FACE * met.flat
        to, far, shines = self.emitters.shining(led, begin, chance)
        passed, leaves = inwards.exactly(own, chance), self._leaving(way, to, met, going.matt[some])
        value = going.weight[some] * passed * leaves * shines / np.maximum(dense, np.float32(1e-12))
        return mark, Joined(some, led, begin, to, far, np.asarray(value, np.float32))

    def _leaving(self, way: Singles, to: Singles, met: FacesMet, matt: Yes) -> Singles:
        """Density [1/sr] with which light that comes along ``way`` from inside leaves towards ``to``."""
        frame = frame_of(met.normal)
        travel = into(frame, way)
        travel[2] = np.maximum(np.abs(travel[2]), np.float32(1e-4))
        rough = self.faces.rough[met.triangle]
        rough = np.where(matt, roughened(rough), rough)
        inside = np.ones(len(rough), np.bool_)
        leaves = walked(travel, inside, rough, self.chance, into(frame, to)).aimed
        return np.where(dot(to, met.flat) > 0.0, leaves, np.float32(0.0))

    def share_found(self, mark: Ints, led: Whole, travel: Singles) -> Singles:
        """Share (n,) that counts of what ways of these marks find at the next face, of light points ``led``."""
        share = np.ones(len(mark), np.float32)
        for places in self._before:
            marked = np.flatnonzero((mark >= places.first) & (mark < places.past))
            if not len(marked):
                continue
            place, own = mark[marked] - places.first, led[marked]
            inwards = places.inwards.only(place)
            seen = self._glimpse(inwards, own[None])
            listed = (places.near[:, place] == own).any(axis=0)
            aimed = seen.worth[0] / places.total[place]
            aimed *= _lobe(dot(travel.take(marked, axis=1), seen.to[:, 0]), seen.width[0]) * listed
            share[marked] = inwards.density / np.maximum(inwards.density + aimed, np.float32(1e-12))
        return share

    def _glimpse(self, inwards: Inwards, led: Whole | Ints) -> "_Glimpse":
        """Light points (m, n) as they appear from n places."""
        to = self.images.at.take(led, axis=1) - inwards.at[:, None]
        far = np.sqrt(np.maximum(dot(to, to), np.float32(1e-6)))
        to = np.asarray(to / far, np.float32)
        width = np.asarray(self.images.width[led] / far, np.float32)
        own = np.stack([dot(axis[:, None], to) for axis in inwards.frame])
        worth = self.images.worth(to, far, led, inwards.triangle, inwards.at[2])
        worth = (inwards.about(own, _WIDER * width) + _FLOOR) * worth
        return _Glimpse(to, width, np.asarray(worth, np.float32))


@dataclass(frozen=True, slots=True, eq=False)
class _Glimpse:
    """Light points (m, n) from n places: towards each (3, m, n), width of its image [rad], and what each is worth."""

    to: Singles
    width: Singles
    worth: Singles

    @property
    def total(self) -> Singles:
        """Worth (n,) of all from each place."""
        return np.asarray(np.maximum(self.worth.sum(axis=0), np.float32(1e-30)))


@dataclass(frozen=True, slots=True, eq=False)
class _Places:
    """Where ways went on within acrylic just now.

    first : the first one's mark; near, total : the light points (m, n) that were looked for, and their worth (n,).
    """

    first: int
    inwards: Inwards
    near: Ints
    total: Singles

    @property
    def past(self) -> int:
        """The mark after the last one's."""
        return self.first + len(self.total)


def _drawn_about(axis: Singles, width: Singles, chance: np.random.Generator) -> Singles:
    """Directions (3, n) drawn from :func:`_lobe` about axes."""
    drawn = chance.random(len(width), np.float32)
    slope = width * np.sqrt(drawn / (1.0 - drawn))
    turn = np.float32(2.0 * np.pi) * chance.random(len(width), np.float32)
    up = 1.0 / np.sqrt(1.0 + slope * slope)
    own = np.stack([slope * np.cos(turn) * up, slope * np.sin(turn) * up, up])
    return np.asarray(out_of(frame_of(axis), own), np.float32)


def _lobe(cosine: Singles, width: Singles) -> Singles:
    """Density [1/sr] at a cosine off the axis: GGX facets', a bell of slopes with long ends (Walter et al. 2007, eq. 33)."""
    square = width * width
    bell = square / (np.float32(np.pi) * (cosine * cosine * (square - 1.0) + 1.0) ** 2)
    return np.where(cosine > 0.0, bell * cosine, np.float32(0.0))
