"""How the lamp looks from one place: its picture in luminance, and each plate's hot-spot ratio.

The whole picture is rendered once; then the plates whose ratio is not known well enough are
rendered on by themselves, in rounds, until their standard error is met. Rounds are made of equal
batches dealt to groups; leaving out one group after the other gives the error (jackknife: Efron &
Stein 1981), denoising and the search for the brightest spot included.
"""

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.glow import engine
from stackview.glow.hot_spots import FINEST, LEAST_PIXELS, MINUTE, HotSpot, eye_blur, hot_spot
from stackview.glow.parts_seen import PartsSeen, parts_seen
from stackview.glow.room import Room
from stackview.glow.scene import Scene
from stackview.light.colour import LUMINANCE
from stackview.sight.camera import Camera

GROUPS = 6
"""Groups of batches that the error is taken from."""
LEAST, MOST = 16, 4096
"""Samples for each pixel: in the first round at least, and in all at most."""
GRAIN = 0.4
"""Error of the ratio times the square root of the samples, where no plate tells; as measured."""

MARGIN = 16
"""Pixels about a plate that are rendered with it."""

Progress = Callable[[float], None]
Window = tuple[slice, slice]


@dataclass(frozen=True, slots=True)
class PlateGlow:
    """One acrylic layer as it looks from the place, ``ratio_error`` the ratio's relative standard error."""

    layer: str
    hot_spot_ratio: float
    ratio_error: float
    peak_cd_m2: float
    mean_cd_m2: float


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """The lamp from one place.

    raw : (h, w, 3) luminance by channel of the lamp's own light [cd/m²], as rendered;
    plates : those in sight, from the bottom up; unseen : acrylic layers out of sight;
    samples : for each pixel of the picture, more on plates; met : whether the error was reached.
    """

    camera: Camera
    seen: PartsSeen
    raw: engine.Picture
    plates: tuple[PlateGlow, ...]
    unseen: tuple[str, ...]
    samples: int
    met: bool
    coarse: bool
    """Whether pixels are coarser than the eye."""

    @property
    def clean(self) -> engine.Picture:
        """The picture denoised; worked out each time it is asked for."""
        return engine.denoised(self.raw, self.seen.albedo, self.seen.normals)


def look(
    scene: Scene,
    room: Room,
    camera: Camera,
    *,
    pitch: float,
    error: float,
    longest: float,
    seed: int = 1,
    variant: str = engine.STEADY,
    progress: Progress = lambda _: None,
) -> Look:
    """Render a lamp until each plate's hot-spot ratio is known to ``error`` (relative standard error).

    Parameters
    ----------
    pitch : from light point to light point [mm]; infinite for a single one
    error : 0.01 to 1, e.g. 0.05
    longest : no new round is begun that would end later than this [s]
    progress : called with the share done, 0 to 1

    Raises
    ------
    GlowMissingError
        the renderer is not installed
    """
    begun = time.monotonic()
    seen = parts_seen(scene, room, camera)
    eye = _Eye(engine.built(scene, room, variant), camera, seed)
    samples = _samples_for(error)
    groups = np.stack([eye.sees(samples // GROUPS, None) for _ in _told(GROUPS, progress, 0.5)])
    total, count = groups.sum(axis=0) * (samples // GROUPS), np.full(seen.part.shape, samples, np.float32)
    blur, surround = eye_blur(camera), pitch * camera.scale
    strips = [_Strip(plate, groups[:, *plate.window], samples) for plate in plates_in_sight(scene, seen)]
    found = [strip.glow(seen, blur, surround) for strip in strips]
    for index, strip in enumerate(strips):
        while found[index].ratio_error > error:
            more = strip.more(found[index].ratio_error / error)
            spent = time.monotonic() - begun
            if more < GROUPS or spent * (1.0 + 0.3 * more / strip.samples) > longest:
                break
            fresh = np.stack([eye.sees(more // GROUPS, strip.plate.window) for _ in range(GROUPS)])
            strip.add(fresh, more // GROUPS)
            total[strip.plate.window] += fresh.sum(axis=0) * (more // GROUPS)
            count[strip.plate.window] += more // GROUPS * GROUPS
            found[index] = strip.glow(seen, blur, surround)
            progress(0.5 + 0.5 * (index + 0.5) / len(strips))
    raw = total / count[..., None]
    progress(1.0)
    in_sight = {plate.layer for plate in found}
    acrylic = [part.name for part in scene.placed if part.role == "layer" and not part.opaque]
    return Look(
        camera=camera,
        seen=seen,
        raw=raw,
        plates=tuple(found),
        unseen=tuple(name for name in acrylic if name not in in_sight),
        samples=samples,
        met=all(plate.ratio_error <= error for plate in found),
        coarse=camera.pixel > FINEST * MINUTE * 1.001,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Plate:
    """An acrylic layer in sight.

    mask : (h, w) pixels that show nothing else; window : rows and columns about them;
    spreads : whether it spreads light (sanded or opal).
    """

    name: str
    mask: NDArray[np.bool_]
    window: Window
    spreads: bool


def plates_in_sight(scene: Scene, seen: PartsSeen) -> list[Plate]:
    """Acrylic layers that fill enough of the picture, from the bottom up."""
    found = []
    for number, part in enumerate(scene.placed):
        if part.role == "layer" and not part.opaque:
            mask = (seen.part == number) & seen.whole
            sanded = "sanded" in (part.finish.top, part.finish.underside, part.finish.edge)
            if mask.sum() >= LEAST_PIXELS:
                spreads = sanded or part.material.body == "opal"
                found.append(Plate(part.name, mask, _about(mask), spreads))
    return found


def luminance_of(picture: engine.Picture) -> NDArray[np.float64]:
    """Luminance (h, w) [cd/m²] of a picture (h, w, 3) by channel."""
    return np.asarray(picture, np.float64) @ LUMINANCE.astype(np.float64)


def _about(mask: NDArray[np.bool_]) -> Window:
    """The rows and columns of a mask with a margin for the denoiser to look at."""
    rows, columns = (np.flatnonzero(mask.any(axis=axis)) for axis in (1, 0))
    return (
        slice(max(int(rows[0]) - MARGIN, 0), min(int(rows[-1]) + MARGIN + 1, mask.shape[0])),
        slice(max(int(columns[0]) - MARGIN, 0), min(int(columns[-1]) + MARGIN + 1, mask.shape[1])),
    )


def _samples_for(error: float) -> int:
    """Samples for the whole picture: the finer the ratio is asked for, the finer the picture."""
    wanted = min(max(GRAIN**2 / error**2, LEAST), 256)
    return GROUPS * int(np.ceil(wanted / GROUPS))


def _told(count: int, progress: Progress, share: float) -> Iterator[int]:
    for k in range(count):
        yield k
        progress(share * (k + 1) / count)


class _Eye:
    """Renders batch after batch, each with a seed of its own."""

    def __init__(self, built: engine.Built, camera: Camera, seed: int) -> None:
        self._built, self._camera, self._next = built, camera, seed * 65536

    def sees(self, samples: int, window: Window | None) -> engine.Picture:
        self._next += 1
        return engine.photographed(self._built, self._camera, samples, self._next, window=window)


class _Strip:
    """What has been gathered of one plate's window: sums over samples by group."""

    def __init__(self, plate: Plate, groups: NDArray[np.float32], samples: int) -> None:
        self.plate, self.samples = plate, samples
        self._sums = groups * np.float32(samples // GROUPS)

    def add(self, groups: NDArray[np.float32], each: int) -> None:
        self._sums += groups * np.float32(each)
        self.samples += each * GROUPS

    def more(self, excess: float) -> int:
        """Samples that the next round takes; the error falls with the square root of their number."""
        wanted = self.samples * (max(excess**2 * 1.15, 1.5) - 1.0)
        return int(min(np.ceil(wanted / GROUPS) * GROUPS, 3 * self.samples, MOST - self.samples))

    def glow(self, seen: PartsSeen, blur: float, surround: float) -> PlateGlow:
        """Hot spot of all groups together, and its error from leaving them out in turn."""
        whole, each = self._sums.sum(axis=0), self.samples / GROUPS
        best = self._spot(whole, self.samples, seen, blur, surround)
        ratios = np.array(
            [self._spot(whole - own, self.samples - each, seen, blur, surround).ratio for own in self._sums]
        )
        # Jackknife: (g − 1)/g · Σ(rᵢ − r̄)².
        spread = float(np.sqrt((GROUPS - 1) / GROUPS * ((ratios - ratios.mean()) ** 2).sum()))
        return PlateGlow(self.plate.name, best.ratio, spread / best.ratio, best.peak, best.mean)

    def _spot(
        self, total: NDArray[np.float32], count: float, seen: PartsSeen, blur: float, surround: float
    ) -> HotSpot:
        window = self.plate.window
        picture = total / np.float32(count)
        if self.plate.spreads:
            picture = engine.denoised(picture, seen.albedo[window], seen.normals[window])
        return hot_spot(luminance_of(picture), self.plate.mask[window], blur, surround)
