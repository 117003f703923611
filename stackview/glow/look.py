"""How the lamp looks from one place: its picture in luminance, and each plate's hot-spot ratio.

The whole picture is rendered once; then the plates whose ratio is not known well enough are
rendered on by themselves, the easiest first, in rounds, until their standard error is met.
"""

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.glow import engine
from stackview.glow.denoiser import denoised
from stackview.glow.gathered import GROUPS, Gathered, PlateGlow
from stackview.glow.hot_spots import FINEST, MINUTE, eye_blur
from stackview.glow.parts_seen import LIGHT_FACE, PartsSeen, parts_seen
from stackview.glow.plates_seen import Plate, Window, plates_in_sight, tiles_of
from stackview.glow.room import Room
from stackview.glow.scene import GlowScene
from stackview.sight.camera import Camera

_STEP = 16
"""Samples for each pixel in one round of the whole picture; divisible by the groups."""
_GRAIN = 0.4
"""Error of the ratio times the square root of the samples that the picture gets for it."""
_MOST = 256
"""Samples for each pixel of the whole picture, at most."""
_SLOWER = 3.0
"""A plate's pixel takes about this many times as long as the picture's mean one, as measured."""

_Progress = Callable[[float], None]
Round = tuple[Gathered, int, NDArray[np.float32]]
"""A plate, samples of each group, and their means (GROUPS, n, 3) in its places."""
_FEWEST = 96
"""Samples of a plate's pixel before its error is believed: bright light that comes rarely is not yet in fewer."""
_AGAIN = 0.5
"""Once the error is met, so many more samples as a share: only what they leave as it was counts as known."""


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """The lamp from one place.

    raw : (h, w, 3) luminance by channel of the lamp's own light [cd/m²], as rendered;
    plates : those in sight, from the bottom up; unseen : acrylic layers out of sight;
    samples : for each pixel of the lamp, more on plates; asked : how many the picture was to get;
    met : whether the error was reached.
    """

    camera: Camera
    seen: PartsSeen
    raw: Singles
    plates: tuple[PlateGlow, ...]
    unseen: tuple[str, ...]
    samples: int
    asked: int
    met: bool
    coarse: bool
    """Whether pixels are coarser than the eye."""

    @property
    def clean(self) -> Singles:
        """The picture denoised; worked out each time it is asked for."""
        return denoised(self.raw, self.seen.albedo, self.seen.normals)


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
    progress : called with the share done, 0 to 1
    ended : asked when a round is broken off; where it says yes, what the rounds before it have shown is told

    Raises
    ------
    GlowMissingError
        the renderer is not installed
    """
    clock = _Clock(longest)
    seen = parts_seen(scene, room, camera)
    eye = _Eye(engine.built(scene, room, variant), camera, seed)
    whole = _whole(eye, seen, _samples_for(error), clock, progress, ended)
    pace = _SLOWER * clock.spent / float(whole.count.sum())
    widths = eye_blur(camera), pitch * camera.scale
    plates = [
        Gathered(
            plate, whole.groups[:, *plate.window], whole.count[plate.window], whole.samples, seen, *widths
        )
        for plate in plates_in_sight(scene, seen)
    ]
    sure: set[str] = set()
    with _broken_off(ended):
        for own, each, groups in (
            _rounds(eye, plates, error, pace, clock, progress, sure) if not ended() else ()
        ):
            own.add(groups, each)
    raw = whole.groups.mean(axis=0)
    for own in plates:
        # What else the tiles show would stand out against the same a pixel further on.
        raw[own.plate.mask] = own.picture[own.plate.mask[own.plate.window]]
    progress(1.0)
    found = tuple(own.glow for own in plates)
    in_sight = {plate.layer for plate in found}
    acrylic = [part.name for part in scene.placed if part.is_layer and not part.opaque]
    return Look(
        camera=camera,
        seen=seen,
        raw=raw,
        plates=found,
        unseen=tuple(name for name in acrylic if name not in in_sight),
        samples=whole.samples,
        asked=_samples_for(error),
        met=all(own.plate.name in sure for own in plates),
        coarse=camera.pixel > FINEST * MINUTE * 1.001,
    )


def _samples_for(error: float) -> int:
    """Samples for the whole picture: the finer the ratio is asked for, the finer the picture."""
    return _STEP * int(np.ceil(min(_GRAIN**2 / error**2, _MOST) / _STEP))


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

    def sees_places(self, plate: Plate, samples: int) -> NDArray[np.float32]:
        """Means (GROUPS, n, 3) of so many samples in each place of a plate, for each group."""
        rows, columns = plate.places
        if self._built.variant == engine.FAST:
            self._next += 1
            return engine.seen_at(
                self._built, self._camera, rows, columns, samples, self._next, groups=GROUPS
            )
        tiles = [self.sees(samples, tile).reshape(GROUPS, -1, 3) for tile in plate.tiles]
        return np.concatenate(tiles, axis=1)

    def sees(self, samples: int, window: Window | None = None) -> NDArray[np.float32]:
        """One picture (h, w, 3) for each group, of so many samples."""
        pictures = []
        for _ in range(GROUPS):
            self._next += 1
            pictures.append(
                engine.photographed(self._built, self._camera, samples, self._next, window=window)
            )
        return np.stack(pictures)


@dataclass(slots=True, eq=False)
class _Whole:
    """The picture so far: means of each group (GROUPS, h, w, 3) and samples for each pixel (h, w).

    ``samples`` are those of the lamp's pixels; the room behind it gets the first round alone.
    """

    groups: NDArray[np.float32]
    count: NDArray[np.float32]
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
    eye: _Eye, seen: PartsSeen, wanted: int, clock: _Clock, progress: _Progress, ended: Callable[[], bool]
) -> _Whole:
    """The whole picture once, then the lamp until it has the samples wanted; half of the time at most."""
    own = _Whole(eye.sees(_STEP // GROUPS), np.full(seen.part.shape, _STEP, np.float32), _STEP)
    lamp = (seen.part >= 0) | (seen.part == LIGHT_FACE)
    tiles = tiles_of(lamp) if lamp.any() else ()
    progress(0.5 * own.samples / wanted)
    with _broken_off(ended):
        while own.samples < wanted and clock.spent * (1.0 + _STEP / own.samples) < clock.longest / 2.0:
            for tile in tiles:
                fresh = eye.sees(_STEP // GROUPS, tile)
                own.groups[:, *tile] += (fresh - own.groups[:, *tile]) * np.float32(
                    _STEP / (own.samples + _STEP)
                )
                own.count[tile] += _STEP
            own.samples += _STEP
            progress(0.5 * own.samples / wanted)
    progress(0.5)
    return own


def _rounds(
    eye: _Eye,
    plates: list[Gathered],
    error: float,
    pace: float,
    clock: _Clock,
    progress: _Progress,
    sure: set[str],
) -> Iterator[Round]:
    """Rounds on one plate after the other, until all are known well enough or the time is up.

    ``pace`` is the time that a sample of a plate's pixel takes, at first as reckoned [s]; ``sure`` takes the names of
    those that are known.
    """
    paces = {own.plate.name: pace for own in plates}
    told, done = clock.spent, 0.0

    def takes(own: Gathered, samples: int) -> float:
        return samples * own.plate.pixels * paces[own.plate.name]

    while clock.left > 0.0:
        open_ones = [own for own in plates if own.plate.name not in sure and _asks(own, error) >= GROUPS]
        if not open_ones:
            return
        own = min(open_ones, key=lambda each: takes(each, _asks(each, error)))
        fitting = int(clock.left / takes(own, GROUPS))
        each = min(_asks(own, error) // GROUPS, fitting)
        if each < 1:
            return
        begun = clock.spent
        was_met = _is_met(own, error)
        yield own, each, eye.sees_places(own.plate, each)
        if was_met and _is_met(own, error):
            sure.add(own.plate.name)
        paces[own.plate.name] = (clock.spent - begun) / (each * GROUPS * own.plate.pixels)
        known = [min(1.0, (error / max(own.glow.ratio_error, 1e-9)) ** 2) for own in plates]
        by_time = (clock.spent - told) / max(clock.longest - told, 1e-9)
        # The error is itself only estimated, and what is done is not to shrink.
        done = max(done, min(max(float(np.mean(known)), by_time), 1.0))
        progress(0.5 + 0.5 * done)


def _is_met(own: Gathered, error: float) -> bool:
    return own.glow.ratio_error <= error and own.samples >= _FEWEST


def _asks(own: Gathered, error: float) -> int:
    """Samples that a plate's next round takes."""
    if _is_met(own, error):
        return int(np.ceil(_AGAIN * own.samples / GROUPS)) * GROUPS
    return max(own.more(error), min(_FEWEST - own.samples, 3 * own.samples))
