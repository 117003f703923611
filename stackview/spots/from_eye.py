"""Ways from an eye backwards: at every face that spreads light one light point is joined to them."""

from dataclasses import dataclass, field

import numpy as np

from stackview.arrays import Ints, Singles, Whole, Yes
from stackview.sight.refraction import dot
from stackview.solids.rays import Target
from stackview.spots.at_faces import Aim, Asked, faces_work
from stackview.spots.by_clear import ByClear, ClearPlates, clear_plates, unblocked
from stackview.spots.caught_light import CaughtLight
from stackview.spots.faces import Does, Faces
from stackview.spots.images import Images, images_of
from stackview.spots.inwards import Inwards
from stackview.spots.light_choice import Emitters, LightChoice
from stackview.spots.through import Through
from stackview.spots.ways import Arrived, FacesMet, Going, begun, follow

_FLOOR = np.float32(0.02)
_BY_PLATES = 2
"""Candidates by level clear plates, where there are any: they bring a seventh of the light."""
_TOGETHER = 8_192
"""About so many candidates are looked at together: more lose to the processor's memory, of fewer the overhead costs most."""
_SHORT = np.float32(0.02)
"""How far before its end a joining line is held to be free [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class LitFaces:
    """Faces, what shines among them, and how a light point is chosen."""

    faces: Faces
    emitters: Emitters
    choice: LightChoice
    images: Images
    plates: ClearPlates
    caught: CaughtLight | None


def lit_faces(
    faces: Faces, emitters: Emitters, choice: LightChoice, caught: CaughtLight | None = None
) -> LitFaces:
    """Put them together, with where light points appear from within acrylic; ``caught`` is of the same lamp."""
    return LitFaces(faces, emitters, choice, images_of(faces, emitters, choice), clear_plates(faces), caught)


def light_from_eye(
    around: LitFaces,
    eye: Singles,
    travel: Singles,
    cell: Ints,
    chance: np.random.Generator,
    groups: Ints | None = None,
) -> Arrived:
    """Follow ways from an eye (3,) [mm] along unit directions (3, n); ``cell`` (n,) comes back with their light.

    ``groups`` tells of each cell to which group its ways belong, where caught light is looked up by groups.
    The sum of the light in a cell over the ways sent there is its luminance [cd/m²]. Light points behind faces that
    pass light unspread are come upon where the eye's first face is such a one too; what an unspread
    light point sends to a face that spreads it is left to :mod:`stackview.spots.from_lights`.
    """
    through = Through(around.faces, around.emitters, around.images, around.choice, chance)
    own = _FromEye(around, chance, through, groups)
    at = np.repeat(eye.astype(np.float32)[:, None], len(cell), axis=1)
    going = begun(at, travel, np.ones(len(cell), np.float32), cell)
    looked_up = None if around.caught is None else own.look_up
    work = faces_work(around.faces, own, chance, halve=True, through=own.join_through, looked_up=looked_up)
    follow(around.faces, own, work, going, chance)
    return joined_light(own.found)


def joined_light(found: list[Arrived]) -> Arrived:
    """Light of several batches as one."""
    if not found:
        none = np.zeros(0, np.int32)
        no = np.zeros(0, np.bool_)
        return Arrived(none, none, np.zeros(0, np.float32), no, no)
    return Arrived(*(np.concatenate([getattr(one, name) for one in found]) for name in Arrived.__slots__))


def only_free(target: Target, begin: Singles, aim: Aim, value: Singles) -> Singles:
    """The values (n,) whose joining lines nothing stands in the way of, 0 for the others."""
    some = np.flatnonzero(value > 0.0)
    if len(some):
        blocked = target.blocked(
            np.ascontiguousarray(begin[:, some].T),
            np.ascontiguousarray(aim.to[:, some].T),
            np.maximum(aim.far[some] - _SHORT, np.float32(1e-3)),
        )
        value[some[blocked]] = 0.0
    return value


@dataclass(slots=True, eq=False)
class _Picked:
    """One of several for each of n ways, picked one after the other: which, its worth, and the mean total of all."""

    which: Whole
    wanted: Singles
    total: Singles

    @classmethod
    def none(cls, count: int) -> "_Picked":
        """Nothing yet."""
        return cls(np.zeros(count, np.int64), np.zeros(count, np.float32), np.zeros(count, np.float32))

    def take(
        self, worth: Singles, share: Singles, which: Whole, chance: np.random.Generator
    ) -> tuple[Yes, Whole]:
        """Offer the first n ways more of them (m, n), by their shares of the total.

        Tells which ways take one, and which of the m that would be.
        """
        count = share.shape[1]
        upto = np.cumsum(share, axis=0)
        total = self.total[:count]
        total += upto[-1]
        drawn = chance.random(count, np.float32) * total
        taken = drawn < upto[-1]
        slot = np.minimum((upto <= drawn).sum(axis=0), len(share) - 1)
        at = slot, np.arange(count)
        self.which[:count] = np.where(taken, which[at], self.which[:count])
        self.wanted[:count] = np.where(taken, worth[at], self.wanted[:count])
        return taken, slot


@dataclass(slots=True, eq=False)
class _FromEye:
    around: LitFaces
    chance: np.random.Generator
    through: Through
    groups: Ints | None = None
    found: list[Arrived] = field(default_factory=list)

    def come_upon(self, going: Going, met: FacesMet) -> None:
        self.through.next_faces()
        hit = going.straight & going.began_straight
        if not hit.any():
            return
        led = self.around.faces.led[met.triangle]
        # To what a level clear plate brings to a face that spreads it ways are joined; what others bring to wood is caught.
        by_luck = going.plain | ~(going.by_a_plate | going.caught)
        some = np.flatnonzero(hit & by_luck & (led >= 0) & ~met.inside)
        if len(some):
            value = going.weight[some] * self.around.emitters.luminance[led[some]]
            self.found.append(
                Arrived(going.origin[some], led[some], value, going.matt[some], going.plain[some])
            )

    def after_first(self, going: Going) -> Going:
        """All ways go on."""
        return going

    def aims(self, asked: Asked) -> Aim:
        """A light point for each place (3, n), of several that the grid proposes, straight or by a level clear plate.

        The weight is luminance times area times cosine over the square of the distance, over the chance of
        this choice (Talbot et al. 2005, eq. 6).
        """
        begin = asked.begin
        cube = self.around.choice.cube(begin)
        picked = self._picked(asked, cube)
        emitters, chance, count = self.around.emitters, self.chance, begin.shape[1]
        plate, far, bent = np.zeros(count, np.int64), np.zeros(count, np.bool_), np.zeros(count, np.bool_)
        for _ in range(_BY_PLATES if self.around.plates.any else 0):
            which, drawn = self.around.choice.drawn(cube, 1, chance)
            own, share = self.around.plates.drawn(begin[2], chance)
            turned = np.asarray(chance.random(count, np.float32) < 0.5)
            lines = self.around.plates.lines(
                own,
                turned,
                begin,
                emitters.centres.take(which[0], axis=1),
                emitters.directions.take(which[0], axis=1),
                emitters.power[which[0]],
            )
            worth = np.asarray(asked.response(lines.to) * lines.gives, np.float32)
            taken, _ = picked.take(
                worth[None], worth / (np.float32(_BY_PLATES) * drawn * share), which, chance
            )
            plate, far, bent = np.where(taken, own, plate), np.where(taken, turned, far), bent | taken
        return self._aimed(begin, picked, np.flatnonzero(bent), plate, far)

    def _picked(self, asked: Asked, cube: Whole) -> "_Picked":
        """Of several light points that the grid proposes one for each place, straight."""
        emitters, begin, count = self.around.emitters, asked.begin, len(cube)
        picked, tries = _Picked.none(count), np.full(count, np.float32(asked.candidates))
        tries[: asked.thorough] += np.float32(asked.more)
        if len(emitters) == 1:
            tries[:], looks = 1.0, [(count, 1)]
        else:
            looks = [(count, asked.candidates), (asked.thorough, asked.more)]
        for own, each in looks:
            left = each if own else 0
            while left:
                some = min(left, max(_TOGETHER // own, 1))
                which, drawn = self.around.choice.drawn(cube[:own], some, self.chance)
                to = emitters.centres.take(which, axis=1) - begin[:, None, :own]
                square = dot(to, to) + np.float32(0.3) * emitters.area[which]
                to /= np.sqrt(square)
                cosine = np.maximum(-dot(to, emitters.directions.take(which, axis=1)), _FLOOR)
                worth = np.asarray(asked.response(to) * emitters.power[which] * cosine / square, np.float32)
                picked.take(worth, worth / (tries[:own] * drawn), which, self.chance)
                left -= some
        return picked

    def _aimed(self, begin: Singles, picked: "_Picked", by: Whole, plate: Whole, far: Yes) -> Aim:
        """At the light points picked; by some of the plates."""
        emitters, led = self.around.emitters, picked.which
        to, away, shines = emitters.shining(led, begin, self.chance)
        bent = None
        if len(by):
            place, normal = emitters.place(led[by], self.chance)
            strength = emitters.luminance[led[by]] * emitters.area[led[by]]
            lines = self.around.plates.lines(plate[by], far[by], begin[:, by], place, normal, strength)
            to[:, by], shines[by], bent = lines.to, lines.gives, (by, lines)
        weight = shines * picked.total / np.maximum(picked.wanted, np.float32(1e-30))
        return Aim(led, to, away, np.where(picked.wanted > 0.0, weight, np.float32(0.0)), bent)

    def join(self, asked: Asked, aim: Aim, share: Singles) -> None:
        going = asked.going
        value = np.asarray(going.weight * aim.weight * share, np.float32)
        if aim.bent is not None:
            by, lines = aim.bent
            self._join_bent(
                asked, aim, by[value[by] > 0.0], lines.only(np.flatnonzero(value[by] > 0.0)), value
            )
            value[by] = 0.0
        # A light-giving face lies in one plane, or is round: it does not shine on itself.
        value[self.around.faces.led[asked.met.triangle] == aim.number] = 0.0
        value = only_free(self.around.faces.target, asked.begin, aim, value)
        some = np.flatnonzero(value > 0.0)
        if len(some):
            led, value = aim.number[some], value[some]
            if self.around.faces.does[asked.met.triangle[0]] == Does.SANDED:
                mark = np.where(asked.met.inside[some], going.mark[some], np.int32(-1))
                value = value * self.through.share_found(mark, led, going.travel[:, some])
            self._take(going.only(some), led, value)

    def _join_bent(self, asked: Asked, aim: Aim, by: Whole, lines: ByClear, value: Singles) -> None:
        some = by[unblocked(self.around.faces, asked.begin[:, by], lines)]
        if len(some):
            self._take(asked.going.only(some), aim.number[some], value[some])

    def join_through(self, going: Going, inwards: Inwards) -> Ints:
        mark, lines = self.through.joined(going, inwards)
        aim = Aim(lines.led, lines.to, lines.far, lines.value)
        value = only_free(self.around.faces.target, lines.begin, aim, lines.value)
        some = np.flatnonzero(value > 0.0)
        if len(some):
            self._take(going.only(lines.way[some]), lines.led[some], value[some])
        return mark

    def look_up(self, going: Going, met: FacesMet, back: Singles) -> Yes:
        """Take in what the lamp's matt faces give back of light caught there."""
        caught = self.around.caught
        if caught is None:
            return np.zeros(len(back), np.bool_)
        own = self.around.faces.led[met.triangle]
        known = caught.known(met.triangle, own)
        which = np.flatnonzero(known)
        lit, at = caught.on(caught.pieces(met.triangle[which], own[which], met.place[:, which]))
        which = which[lit]
        if self.groups is None:
            light = caught.light[:, at].mean(axis=0)
        else:
            light = caught.light[self.groups[going.origin[which]], at]
        value = going.weight[which] * back[which] * np.float32(1.0 / np.pi) * light
        some = np.flatnonzero(value > 0.0)
        self._take(going.only(which[some]), caught.led[at[some]], np.asarray(value[some], np.float32))
        return known

    def _take(self, going: Going, led: Whole | Ints, value: Singles) -> None:
        no = np.zeros(len(led), np.bool_)
        self.found.append(Arrived(going.origin, led.astype(np.int32), value, going.matt, no))
