"""What every named eye sees on the acrylic: how spotty each plate looks, without the renderer.

An eye is taken at the bearing from which most light points show to it, as ``stackview glow`` takes it, in the
same room. Ways of light are drawn by number, so that the same lamp gives the same answer anywhere.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from stackview.arrays import Floats
from stackview.at_once import AtOnce, one_by_one
from stackview.description.lamp import Eye
from stackview.glow.room import room_behind
from stackview.glow.seen_light import LOTS
from stackview.glow.spot_words import IN_THE_DARK, UNKNOWN_FROM, word_for
from stackview.light.evening import ROOM_LUMINANCE
from stackview.light.layout import LightLayout
from stackview.one_line import one_line
from stackview.sight.eyes import Seen, Standpoint, eye_places
from stackview.spots.faces import optical_faces
from stackview.spots.from_eye import joined_light, light_from_eye, lit_faces
from stackview.spots.from_lights import light_from_lights, pixels_of
from stackview.spots.gathering import Brought, Told, gatherings
from stackview.spots.glimpses import glimpse
from stackview.spots.lit_lamp import LitLamp, lit_lamp
from stackview.spots.plate_views import as_fine_as_the_eye, plate_views
from stackview.stack.assembly import Stack

NOT_KNOWN = "not known"
_BATCH = 32_768
"""Ways followed together; larger batches lose to the processor's memory."""
ROUNDS = 2
"""Answers that are given, the second one after the first."""
FIRST_WAYS, _FIRST_IN_ALL, WAYS_IN_ALL = 8_192, 65_536, 220_000
"""Ways from the eye: for each plate and for all together in the first round, and for all plates of all eyes."""
_FIRST_THROWN, _WHOLE_THROWN = 16_384, 98_304
"""Ways from the light points, for all eyes together."""
_FEW_THROWN = 16
"""Where fewer of the first ways from the light points come to the eye, five times as many tell nothing either."""
QUICK_WAYS = 32_768
"""Ways for the quick answer of one eye."""
_DEAR = 2
"""Ways past sanded faces are joined twice: they take so many times as long, and so many fewer are followed."""
_STEPS = 2
"""A further look is made in so many steps."""
_GOOD, _BAD = 0.18, 0.58
"""No further ways for a plate whose ratio is known this well; no more for one that is known worse than so badly."""


@dataclass(frozen=True, slots=True, repr=False)
class PlateSpots:
    """How one acrylic layer looks to an eye.

    ratio : hot-spot ratio, brightest place over the mean within one pitch of it; ratio_error : relative, holds the
    truth in 19 of 20 cases, as tried; peak, mean : luminance [cd/m²]; mean_error : the mean's relative standard
    error; light_points : numbers of those that make the brightest place, those that give most first.
    """

    layer: str
    ratio: float
    ratio_error: float
    peak_cd_m2: float
    mean_cd_m2: float
    mean_error: float
    light_points: tuple[int, ...]

    @property
    def word(self) -> str:
        """even, soft, spots, single LEDs, or dark."""
        return IN_THE_DARK if self.peak_cd_m2 < ROOM_LUMINANCE else word_for(self.ratio)

    @property
    def unsure(self) -> bool:
        """Whether another word may be the right one."""
        if self.word == IN_THE_DARK:
            return self.mean_error > UNKNOWN_FROM
        low, high = self.ratio / (1.0 + self.ratio_error), self.ratio * (1.0 + self.ratio_error)
        return word_for(max(low, 1.0)) != word_for(high)

    @property
    def told(self) -> str:
        """The word as it may be said: "about" where it is unsure, "not known" where it is a guess."""
        if self.word != IN_THE_DARK and self.ratio_error > 2.0 * UNKNOWN_FROM:
            return NOT_KNOWN
        # What may be brighter than the room is not called dark.
        if self.word == IN_THE_DARK and self.peak_cd_m2 * (1.0 + 3.0 * self.mean_error) >= ROOM_LUMINANCE:
            return NOT_KNOWN
        return f"about {self.word}" if self.unsure else self.word

    def __repr__(self) -> str:
        """One line, rounded."""
        return (
            f'PlateSpots("{self.layer}", {self.told}, {self.ratio:.2f} ± {self.ratio * self.ratio_error:.2f})'
        )

    def record(self) -> dict[str, object]:
        """As ``stackview sight --json`` prints it; what is not known has no number."""
        known, sure = self.told != NOT_KNOWN, self.mean_error <= UNKNOWN_FROM
        return {
            "layer": self.layer,
            "word": self.word if known else NOT_KNOWN,
            "unsure": self.unsure,
            "ratio": self.ratio if known else None,
            "ratio_error": self.ratio_error if known else None,
            "mean_cd_m2": self.mean_cd_m2 if sure else None,
            "mean_error": self.mean_error if sure else None,
            "peak_cd_m2": self.peak_cd_m2 if known else None,
            "light_points": list(self.light_points),
        }


@dataclass(frozen=True, slots=True)
class EyeSpots:
    """What one named eye sees: the bearing it is taken at [°], and the acrylic in sight, from the bottom up."""

    eye: Eye
    bearing: float
    plates: tuple[PlateSpots, ...]

    __repr__ = one_line

    @property
    def known(self) -> tuple[PlateSpots, ...]:
        """The lit plates of which the ratio is known."""
        return tuple(plate for plate in self.plates if plate.word != IN_THE_DARK and plate.told != NOT_KNOWN)

    @property
    def worst(self) -> PlateSpots | None:
        """The spottiest of them; None where there is none."""
        return max(self.known, key=lambda plate: plate.ratio, default=None)


def spots_by_rounds(
    stack: Stack,
    light: LightLayout,
    eyes: Sequence[Seen],
    *,
    seed: int = 1,
    ways: int | None = None,
    at_once: AtOnce = one_by_one,
) -> Iterator[tuple[EyeSpots, ...]]:
    """What each eye sees, first roughly, then as well as is reckoned here; nothing without light or eyes.

    The lamp is made ready at once. ``at_once`` may let several eyes look at once; what they see does not depend on it.
    """
    facing = [(seen.eye, float(seen.bearings[seen.worst])) for seen in eyes]
    if not len(light.points) or not eyes:
        return iter([tuple(nothing_seen(*one) for one in facing)])
    lamp = lit_lamp(stack, light)
    looking = [_Looking(lamp, *one, 1000 * seed + number) for number, one in enumerate(facing)]
    return _rounds(looking, ways, at_once)


def _rounds(looking: "list[_Looking]", ways: int | None, at_once: AtOnce) -> Iterator[tuple[EyeSpots, ...]]:
    dear, plates = max(own.dear for own in looking), sum(own.count for own in looking)
    first = min(FIRST_WAYS, _FIRST_IN_ALL // dear // max(plates, 1))
    evenly = [dict.fromkeys(range(own.count), first) for own in looking]
    _look_at_once(looking, evenly, _FIRST_THROWN // len(looking), at_once)
    yield tuple(own.spots for own in looking)
    left = max((WAYS_IN_ALL // dear if ways is None else ways) - first * plates, 0)
    wanted = [own.wanted() for own in looking]
    total = max(sum(sum(each.values()) for each in wanted), 1e-9)
    needed = [{index: int(left * need / total) for index, need in each.items()} for each in wanted]
    _look_at_once(looking, needed, (_WHOLE_THROWN - _FIRST_THROWN) // len(looking), at_once, last=True)
    yield tuple(own.spots for own in looking)


def _look_at_once(
    looking: Sequence["_Looking"],
    ways: Sequence[dict[int, int]],
    thrown: int,
    at_once: AtOnce,
    *,
    last: bool = False,
) -> None:
    """Let every eye follow further ways, for its plates and from the light points; the one with most begins."""
    order = sorted(range(len(looking)), key=lambda number: -sum(ways[number].values()))
    looked = at_once([partial(looking[number].looked, ways[number], thrown, last=last) for number in order])
    for number, come in zip(order, looked, strict=True):
        looking[number].become(come)


def nothing_seen(eye: Eye, bearing: float) -> EyeSpots:
    """What an eye sees of a lamp without light."""
    return EyeSpots(eye, bearing, ())


def spots_seen(
    lamp: LitLamp,
    eye: Eye,
    bearing: float,
    *,
    layers: Collection[str] | None = None,
    ways: int = QUICK_WAYS,
    seed: int = 1,
) -> EyeSpots:
    """What one eye sees from a bearing [°], quickly; of some acrylic ``layers`` alone, or of all.

    The ways are shared by the plates as they need them, and the same ones are taken every time.
    """
    *_, last = seen_by_rounds(lamp, eye, bearing, (ways // 3, ways - ways // 3), layers=layers, seed=seed)
    return last


def seen_by_rounds(
    lamp: LitLamp,
    eye: Eye,
    bearing: float,
    rounds: Sequence[int],
    *,
    layers: Collection[str] | None = None,
    seed: int = 1,
) -> Iterator[EyeSpots]:
    """The same after each of some rounds of so many ways: the first shared evenly, the others where they are needed."""
    own = _Looking(lamp, eye, bearing, 1000 * seed, layers)
    need: dict[int, float] = dict.fromkeys(range(own.count), 1.0)
    for ways in (each // own.dear for each in rounds):
        if own.count:
            total = sum(need.values())
            own.look({index: int(ways * each / total) for index, each in need.items()}, ways // 2)
            need = own.wanted()
        yield own.spots


@dataclass(frozen=True, slots=True)
class _Looked:
    """What has come of an eye's looking: what is told of its plates, the light brought to them, the chance to go on with."""

    told: list[Told]
    brought: list[Brought] | None
    chance: np.random.Generator


class _Looking:
    """One eye at work."""

    def __init__(
        self, lamp: LitLamp, eye: Eye, bearing: float, number: int, layers: Collection[str] | None = None
    ) -> None:
        stack = lamp.stack
        self._eye, self._bearing = eye, bearing
        standpoint = Standpoint(stack.floor, stack.lamp.surface)
        at = eye_places(eye, standpoint, np.array([bearing]))[0]
        self._camera = as_fine_as_the_eye(lamp.corners, at, stack.height)
        room = room_behind(stack, self._camera)
        faces = optical_faces(lamp.scene, room, lamp.light.points, lamp.colour)
        self._around = lit_faces(faces, lamp.emitters, lamp.choice, lamp.caught)
        views = plate_views(lamp.scene, faces, self._camera)
        views = tuple(view for view in views if layers is None or view.layer in layers)
        self._plates = gatherings(views, self._camera, lamp.light.points)
        self._throws = faces.unspread
        self.dear = _DEAR if faces.sanded else 1
        self._pixels = pixels_of(self._camera, views, lamp.scene)
        self._chance = np.random.Generator(np.random.SFC64([7, number]))
        self._told: list[Told] = []

    @property
    def count(self) -> int:
        """How many plates it sees."""
        return len(self._plates)

    def look(self, ways: dict[int, int], thrown: int) -> None:
        """Follow further ways: from the eye for some plates, from the light points for all."""
        if thrown >= LOTS and self._throws and self._plates and self._worth_throwing:
            self._forwards(thrown)
        if self._told and self._throws:
            glimpse(self._around, self._camera, self._plates, self._chance)
        # The places that may be the brightest are looked at more closely, and then fewer of them.
        steps = _STEPS if self._told else 1
        for step in range(steps):
            each = {index: count // steps // LOTS for index, count in ways.items() if count >= steps * LOTS}
            self._backwards(each)
            self._told = [
                plate.told() if step == 0 or index in each else self._told[index]
                for index, plate in enumerate(self._plates)
            ]

    @property
    def _worth_throwing(self) -> bool:
        """Whether further ways from the light points would tell anything: of the first ones some came to the eye."""
        return not self._told or sum(plate.found_by_light for plate in self._plates) >= _FEW_THROWN

    def looked(self, ways: dict[int, int], thrown: int, *, last: bool) -> "_Looked":
        """Look, perhaps in another process, and say what has come of it; ``last`` without the light itself."""
        self.look(ways, thrown)
        brought = None if last else [plate.brought for plate in self._plates]
        return _Looked(self._told, brought, self._chance)

    def become(self, come: "_Looked") -> None:
        """Go on from what has come of a look."""
        self._told, self._chance = come.told, come.chance
        for plate, brought in zip(self._plates, come.brought or (), strict=come.brought is not None):
            plate.bring(brought)

    def _backwards(self, each: dict[int, int]) -> None:
        """So many ways of each group for each of some plates, all of them followed together."""
        starts = [
            self._plates[index].starts(self._camera, self._shares(index), count, self._chance)
            for index, count in each.items()
        ]
        if not starts:
            return
        travel = np.concatenate([travel for travel, _ in starts])
        sizes = np.array([LOTS * len(self._plates[index].view.rows) for index in each])
        first = np.concatenate([[0], np.cumsum(sizes)])
        cell = np.concatenate([own + start for (_, own), start in zip(starts, first[:-1], strict=True)])
        groups = np.concatenate([np.repeat(np.arange(LOTS, dtype=np.int8), size // LOTS) for size in sizes])
        eye, found = self._camera.eye.astype(np.float32), []
        for start in range(0, len(cell), _BATCH):
            part = np.s_[start : start + _BATCH]
            found.append(
                light_from_eye(
                    self._around,
                    eye,
                    np.ascontiguousarray(travel[part].T),
                    cell[part].astype(np.int32),
                    self._chance,
                    groups,
                )
            )
        light = joined_light(found)
        for place, (index, count) in enumerate(each.items()):
            own = light.only((light.cell >= first[place]) & (light.cell < first[place + 1]))
            self._plates[index].take_seen(own.moved(-int(first[place])), count * self._shares(index))

    def _shares(self, index: int) -> Floats:
        return self._plates[index].shares(self._told[index].places if self._told else ())

    def _forwards(self, ways: int) -> None:
        whole = len(self._pixels.part)
        for start in range(0, ways, _BATCH):
            count = min(_BATCH, ways - start)
            light = light_from_lights(self._around, self._pixels, count, LOTS, self._chance)
            cell, group = light.cell % whole, light.cell // whole
            first = 0
            for plate in self._plates:
                pixels = len(plate.view.rows)
                own = (cell >= first) & (cell < first + pixels)
                place = (cell[own] - first + group[own] * pixels).astype(np.int32)
                plate.take_thrown(replace(light.only(own), cell=place), count)
                first += pixels

    def wanted(self) -> dict[int, float]:
        """How much each plate needs further ways from the eye."""
        need = {}
        for index, told in enumerate(self._told):
            dark = told.peak < 0.5 * ROOM_LUMINANCE and told.mean_error < 1.0
            need[index] = 0.02 if dark or told.ratio_error < _GOOD else min(told.ratio_error, _BAD)
        return need

    @property
    def spots(self) -> EyeSpots:
        """What is known so far."""
        found = [
            PlateSpots(
                plate.view.layer,
                told.ratio,
                told.ratio_error,
                told.peak,
                told.mean,
                told.mean_error,
                told.makers,
            )
            for plate, told in zip(self._plates, self._told, strict=True)
        ]
        return EyeSpots(self._eye, self._bearing, tuple(found))
