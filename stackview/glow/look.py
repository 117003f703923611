"""How the lamp looks from one place: its picture in luminance, and each plate's hot-spot ratio.

The whole picture is rendered once, where it is wanted; then the plates by themselves, the easiest first, in rounds,
until the standard error of their ratio is met.
"""

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles, Whole
from stackview.glow import engine
from stackview.glow.gathered import GROUPS, Gathered, PlateGlow, Round, dark
from stackview.glow.hot_spots import FINEST, MINUTE, eye_blur
from stackview.glow.parts_seen import LIGHT_FACE, FirstSeen, Window, first_shown
from stackview.glow.plates_seen import acrylic_window, plates_in_sight, tiles_of, with_rim
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene
from stackview.sight.camera import Camera

PICTURE_PIXELS = 1_000_000
"""Photographs have at most so many pixels: of a look of more, four make one of theirs."""
_STEP = 16
"""Samples for each pixel of the photographs in one round of the whole picture."""
_GRAIN = 3.2
"""Error of the ratio times the samples that the picture gets for it: what is left of its noise falls more slowly."""
_MOST = 256
"""Samples for each pixel of the whole picture, at most."""
_IN_GAPS, _GAP_ROUNDS = 8.0, 2
"""So many times as many are added where few ways of light find out, as in thin gaps; in so many rounds."""

_TOGETHER = 1_000_000
"""Ways of light that rounds of several plates have together."""

_Progress = Callable[[float], None]


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """The lamp from one place.

    seen, raw : what its pixels show, and (h, w, 3) luminance by channel of the lamp's own light [cd/m²], as rendered;
    where only ratios were asked for nothing but on plates;
    plates : those in sight, from the bottom up; unseen : acrylic layers out of sight;
    samples : for each pixel of the photographs that shows the lamp, 0 where only ratios were asked for; asked : how
    many the picture was to get;
    met : whether the error was reached.
    """

    camera: Camera
    seen: FirstSeen
    raw: Singles
    plates: tuple[PlateGlow, ...]
    unseen: tuple[str, ...]
    samples: int
    asked: int
    met: bool
    coarse: bool
    """Whether pixels are coarser than the eye."""


def look(
    scene: GlowScene,
    room: Room,
    camera: Camera,
    *,
    pitch: float,
    error: float,
    longest: float,
    seed: int = 1,
    variant: str = engine.STEADY,
    only_ratios: bool = False,
    only_picture: bool = False,
    shown: FirstSeen | None = None,
    gaps: NDArray[np.bool_] | None = None,
    progress: _Progress = lambda _: None,
    ended: Callable[[], bool] = lambda: False,
) -> Look:
    """Render a lamp until each plate's hot-spot ratio is known to ``error`` (relative standard error).

    Parameters
    ----------
    pitch : from light point to light point [mm]; infinite for a single one
    error : 0.01 to 1, e.g. 0.05
    longest : no new round is begun that would end later than this [s]; where it stops the work,
        how far that came depends on the machine
    only_ratios : leave out the picture of what is no plate
    only_picture : leave out the plates' ratios, and give the picture all of the time
    shown : what the camera's pixels show, where that is known already
    gaps : (h, w) pixels that few ways of light reach: in the picture they get more than the others
    progress : called with the share done, 0 to 1
    ended : asked when a round is broken off; where it says yes, what the rounds before it have shown is told

    Raises
    ------
    GlowMissingError
        the renderer is not installed
    """
    clock = _Clock(longest)
    window = acrylic_window(scene, camera) if only_ratios else None
    seen = first_shown(scene, room, camera, window) if shown is None else shown
    eye = _Eye(engine.built(scene, room, variant), camera, seed)
    widths = eye_blur(camera), pitch * camera.scale
    in_sight = () if only_picture else plates_in_sight(scene, seen, camera)
    shines = any(any(one.luminance) for one in scene.lights)
    plates = [Gathered(plate, *widths) for plate in in_sight] if shines else []
    share = 0.0 if only_ratios else 1.0 if only_picture else 0.5
    asked = 0 if only_ratios else _samples_for(error)
    if only_ratios:
        whole = _none(seen)
    else:
        whole = _whole(eye, seen, asked, clock, share, progress, ended)
        faint = np.zeros(seen.part.shape, np.bool_) if gaps is None else gaps.copy()
        if only_picture:
            # No rounds of their own bring plates the ways that they take.
            faint |= _clear_or_sanded(scene, seen)
        if faint.any():
            _more_in(faint, eye, whole, clock, share, ended)
    with _broken_off(ended):
        if not ended():
            _rounds(eye, plates, error, clock, lambda done: progress(share + (1.0 - share) * done))
    raw = whole.picture
    for own in plates:
        here = own.rows, own.columns
        more = own.count / np.maximum(own.count + whole.count[here], 1.0)
        raw[here] += (own.picture - raw[here]) * more[:, None]
    progress(1.0)
    found = tuple(own.glow for own in plates) if shines else tuple(dark(plate.name) for plate in in_sight)
    shown_ones = {plate.layer for plate in found}
    looked_for = () if only_picture else scene.placed
    acrylic = [part.name for part in looked_for if part.is_layer and not part.opaque]
    return Look(
        camera=camera,
        seen=seen,
        raw=raw,
        plates=found,
        unseen=tuple(name for name in acrylic if name not in shown_ones),
        samples=whole.samples,
        asked=asked,
        met=all(own.known(error) for own in plates),
        coarse=camera.pixel > FINEST * MINUTE * 1.001,
    )


def _samples_for(error: float) -> int:
    """Samples for the whole picture: the finer the ratio is asked for, the finer the picture."""
    return _STEP * int(np.ceil(round(min(_GRAIN / error, _MOST) / _STEP, 6)))


class _Clock:
    """Time spent, and what is left of the longest [s]."""

    def __init__(self, longest: float) -> None:
        self.longest, self._begun = longest, time.monotonic()

    @property
    def spent(self) -> float:
        return time.monotonic() - self._begun

    @property
    def left(self) -> float:
        return self.longest - self.spent


class _Eye:
    """Renders batch after batch, each with a seed of its own."""

    def __init__(self, built: engine.Built, camera: Camera, seed: int) -> None:
        self._built, self._camera, self._next = built, camera, seed * 65536

    def sees_pixels(self, rows: Whole, columns: Whole, samples: Whole) -> NDArray[np.float32]:
        """Means (GROUPS, n, 3) of so many samples (n,) in each of some pixels (n,), for each group."""
        if self._built.variant == engine.FAST:
            self._next += 1
            return engine.seen_at(
                self._built, self._camera, rows, columns, samples, self._next, groups=GROUPS
            )
        wide, tall = self._camera.size
        picture = np.zeros((GROUPS, tall, wide, 3), np.float32)
        found = np.zeros((GROUPS, len(rows), 3), np.float32)
        for each in np.unique(samples):
            own = samples == each
            wanted = np.zeros((tall, wide), np.bool_)
            wanted[rows[own], columns[own]] = True
            for tile in tiles_of(wanted):
                for group in picture:
                    group[tile] = self.sees(int(each), tile)
            found[:, own] = picture[:, rows[own], columns[own]]
        return found

    def sees_there(self, samples: int, mask: NDArray[np.bool_]) -> Singles:
        """Pixels (n, 3) of a mask (h, w), row by row, each the mean of so many samples; all together where that is quick."""
        if self._built.variant == engine.FAST:
            self._next += 1
            rows, columns = np.nonzero(mask)
            (found,) = engine.seen_at(self._built, self._camera, rows, columns, samples, self._next)
            return np.asarray(found, np.float32)
        picture = np.zeros((*mask.shape, 3), np.float32)
        for tile in tiles_of(mask) if mask.any() else ():
            picture[tile] = self.sees(samples, tile)
        return np.asarray(picture[mask])

    def sees(self, samples: int, window: Window | None = None) -> Singles:
        """A picture (h, w, 3) of so many samples."""
        self._next += 1
        return engine.photographed(self._built, self._camera, samples, self._next, window=window)


@dataclass(slots=True, eq=False)
class _Whole:
    """The picture so far (h, w, 3), and samples for each of its pixels (h, w).

    ``samples`` are those of the photographs' pixels that show the lamp; the room behind it gets the first round alone.
    """

    picture: Singles
    count: Singles
    samples: int


@contextmanager
def _broken_off(ended: Callable[[], bool]) -> Iterator[None]:
    """Let whatever breaks off the work pass, if somebody has asked for its end: what was done before it stands."""
    try:
        yield
    except (KeyboardInterrupt, Exception):
        # The renderer makes errors of its own of an interruption.
        if not ended():
            raise


def _whole(
    eye: _Eye,
    seen: FirstSeen,
    wanted: int,
    clock: _Clock,
    share: float,
    progress: _Progress,
    ended: Callable[[], bool],
) -> _Whole:
    """The whole picture once, then the lamp until it has the samples wanted; within its share of the time."""
    each = _STEP if seen.part.size <= PICTURE_PIXELS else _STEP // 4
    own = _Whole(eye.sees(each), np.full(seen.part.shape, each, np.float32), _STEP)
    lamp = with_rim((seen.part >= 0) | (seen.part == LIGHT_FACE))
    progress(share * own.samples / wanted)
    with _broken_off(ended):
        while own.samples < wanted and clock.spent * (1.0 + _STEP / own.samples) < clock.longest * share:
            part = np.float32(_STEP / (own.samples + _STEP))
            own.picture[lamp] += (eye.sees_there(each, lamp) - own.picture[lamp]) * part
            own.count[lamp] += each
            own.samples += _STEP
            progress(share * own.samples / wanted)
    progress(share)
    return own


def _clear_or_sanded(scene: GlowScene, seen: FirstSeen) -> NDArray[np.bool_]:
    """Pixels (h, w) that show acrylic into which light must find its way, as it need not into opal."""
    numbers = [number for number, part in enumerate(scene.placed) if part.sort in ("clear", "sanded")]
    return np.isin(seen.part, numbers)


def _more_in(
    faint: NDArray[np.bool_], eye: _Eye, own: _Whole, clock: _Clock, share: float, ended: Callable[[], bool]
) -> None:
    """Give those pixels (h, w) of a picture more samples; within the same share of the time."""
    have = float(own.count[faint].min())
    each, last = round(have * _IN_GAPS / _GAP_ROUNDS), 0.0
    with _broken_off(ended):
        for _ in range(_GAP_ROUNDS):
            begun = clock.spent
            if begun + last >= clock.longest * share:
                return
            light = eye.sees_there(each, faint)
            have += each
            own.picture[faint] += (light - own.picture[faint]) * np.float32(each / have)
            own.count[faint] = have
            last = clock.spent - begun


def _none(seen: FirstSeen) -> _Whole:
    """No picture."""
    shape = seen.part.shape
    return _Whole(np.zeros((*shape, 3), np.float32), np.zeros(shape, np.float32), 0)


def _rounds(eye: _Eye, plates: list[Gathered], error: float, clock: _Clock, progress: _Progress) -> None:
    """Rounds of all plates together, until all are known well enough or the time is up."""
    told, done, ways = clock.spent, 0.0, 0
    while clock.left > 0.0:
        wanted = [(own, one) for own in plates if (one := own.wants(error)) is not None]
        # Small rounds go together, for each costs something by itself; of large ones the least comes first.
        wanted.sort(key=lambda each: (each[0].samples > 0, each[1].ways))
        within = clock.left * ways / (clock.spent - told) if ways else np.inf
        taken = _together(wanted, within)
        if not taken:
            return
        light = eye.sees_pixels(
            np.concatenate([own.rows[one.pixels] for own, one in taken]),
            np.concatenate([own.columns[one.pixels] for own, one in taken]),
            np.concatenate([one.counts for _, one in taken]),
        )
        upto = np.cumsum([len(one.pixels) for _, one in taken])[:-1]
        for (own, one), part in zip(taken, np.split(light, upto, axis=1), strict=True):
            own.take(one, part)
            ways += one.ways
        known = [min(1.0, (error / max(each.glow.ratio_error, 1e-9)) ** 2) for each in plates]
        by_time = (clock.spent - told) / max(clock.longest - told, 1e-9)
        # The error is itself only estimated, and what is done is not to shrink.
        done = max(done, min(max(float(np.mean(known)), by_time), 1.0))
        progress(done)


def _together(wanted: list[tuple[Gathered, Round]], within: float) -> list[tuple[Gathered, Round]]:
    """The first of some rounds and what small ones go with it, of no more ways than there is time for."""
    taken: list[tuple[Gathered, Round]] = []
    for own, one in wanted:
        left = min(within, _TOGETHER if taken else np.inf) - sum(each.ways for _, each in taken)
        if one.ways <= left:
            taken.append((own, one))
        elif not taken and (fewer := one.within(left)) is not None:
            taken.append((own, fewer))
    return taken
