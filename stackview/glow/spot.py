"""The spot in a photograph: where it is, whether it is one LED's, and its brightness by radius."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats
from stackview.glow.photograph import Photograph, PhotographError
from stackview.glow.tone_curves import from_light
from stackview.in_figures import percent

_COARSE = 96
"""Pixels across in which spots are told apart."""
_AS_LARGE = 0.15
"""Share of the first spot's area that a second one must have; less is a reflection or noise."""
_SECOND = 0.3
"""A second spot this bright, of the first one's brightness, is another LED."""
_LONGEST = 1.35
"""Longest axis over shortest of a spot's upper half before it is not one LED seen straight on."""
_LEAST_PIXELS = 4.0
_BURNT = 0.05
"""Share of a ring's pixels that may be clipped before it is left out; a few are hot pixels and noise."""
_CLIPPED_CORE = 0.3
"""Share of the half-brightness radius that may be clipped."""
_OVEREXPOSED = 0.5
"""Share of the frame that is clipped, or of its rim, before nothing can be told from it."""
_WITHIN, _PLATEAU_SHARE, _LEAST_TOP = 2.5 / 255.0, 0.1, 0.4
"""How near to the greatest number a plateau lies, its least share of the spot, and the least number that is looked at."""
_FAINT, _NOISE = 0.02, 8.0
"""Least height of a spot: of full scale, and over the middle scatter of the frame's rim."""


@dataclass(frozen=True, slots=True)
class SpotPlace:
    """Middle of the spot and its radius at half brightness, in pixels of the photograph as read."""

    x: float
    y: float
    half: float
    peak: float
    background: float
    stretch: float
    """Longest axis over shortest."""


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """Brightness by radius: radius (n,) in pixels of the file, light (n,), its error (n,), read-only.

    Rings that are clipped are left out.
    """

    radius: Floats
    light: Floats
    error: Floats
    clipped_to: float
    """Radius of the clipped middle, in pixels of the file; 0 where nothing is clipped."""

    def __post_init__(self) -> None:
        for array in (self.radius, self.light, self.error):
            array.setflags(write=False)


def with_plateau(photo: Photograph) -> Photograph:
    """The photograph with its white marked as clipped, where that lies below full scale, as in logarithmic pictures.

    A spot's top is round: within two numbers of 8 bits of the greatest lie one to nine in a hundred
    of what is above half of it, the most where the LED's own face shows. More is a plateau.
    """
    value = from_light(photo.light)
    top = float(value.max(initial=0.0))
    flat = value >= top - _WITHIN
    if photo.bits != 8 or top < _LEAST_TOP or flat.sum() <= _PLATEAU_SHARE * (value >= top / 2.0).sum():
        return photo
    return replace(photo, clipped=photo.clipped | flat)


def find_spot(photo: Photograph) -> SpotPlace:
    """Find the one spot of a photograph.

    Raises
    ------
    PhotographError
        nothing bright, more than one spot, one that is not round, too small, or cut by the frame
    """
    _check_exposure(photo)
    step = max(1, int(np.ceil(max(photo.light.shape) / _COARSE)))
    coarse = _averaged(photo.light, step)
    rim = np.concatenate([coarse[0], coarse[-1], coarse[:, 0], coarse[:, -1]])
    background = float(np.median(rim))
    fine = _averaged(photo.light, max(2, step // 2))
    height = float(fine.max()) - background
    edge = np.concatenate([photo.light[0], photo.light[-1], photo.light[:, 0], photo.light[:, -1]])
    if height < _FAINT or height < _NOISE * float(np.median(np.abs(edge - np.median(edge)))):
        raise PhotographError(
            f"{photo.name}: no bright spot stands out; darken the room, or expose for longer"
        )
    _only_one(photo, coarse, background, height)
    row, column = np.unravel_index(int(np.argmax(coarse)), coarse.shape)
    return _place(photo, background, height, ((float(column) + 0.5) * step, (float(row) + 0.5) * step))


def _check_exposure(photo: Photograph) -> None:
    rim = np.concatenate([photo.clipped[0], photo.clipped[-1], photo.clipped[:, 0], photo.clipped[:, -1]])
    if max(float(photo.clipped.mean()), float(rim.mean())) > _OVEREXPOSED:
        raise PhotographError(
            f"{photo.name}: overexposed, {percent(float(photo.clipped.mean()))} of it is clipped; "
            "expose for less, or darken the room"
        )


def _averaged(light: Floats, step: int) -> Floats:
    tall, wide = light.shape[0] // step, light.shape[1] // step
    cut = light[: tall * step, : wide * step]
    return np.asarray(cut.reshape(tall, step, wide, step).mean(axis=(1, 3)))


def _only_one(photo: Photograph, coarse: Floats, background: float, height: float) -> None:
    """At any level from the peak down to a third of it, all that is brighter hangs together."""
    for share in (0.85, 0.7, 0.5, _SECOND):
        bright = coarse > background + share * height
        first = _joined_to(bright, np.unravel_index(int(np.argmax(coarse)), coarse.shape))
        if _largest(bright & ~first, coarse) > max(2.0, _AS_LARGE * first.sum()):
            raise PhotographError(
                f"{photo.name}: more than one bright spot; light one LED alone and cover reflections"
            )


def _joined_to(bright: NDArray[np.bool_], start: tuple[np.intp, ...]) -> NDArray[np.bool_]:
    """Bright pixels that hang together with ``start``."""
    found = np.zeros_like(bright)
    found[start] = True
    while True:
        grown = found.copy()
        grown[1:] |= found[:-1]
        grown[:-1] |= found[1:]
        grown[:, 1:] |= found[:, :-1]
        grown[:, :-1] |= found[:, 1:]
        grown &= bright
        if (grown == found).all():
            return found
        found = grown


def _largest(bright: NDArray[np.bool_], coarse: Floats) -> int:
    """Pixels of the largest of the few brightest blobs."""
    most, left = 0, bright.copy()
    for _ in range(12):
        if not left.any():
            break
        blob = _joined_to(left, np.unravel_index(int(np.argmax(np.where(left, coarse, -1.0))), coarse.shape))
        most, left = max(most, int(blob.sum())), left & ~blob
    return most


def _place(photo: Photograph, background: float, height: float, start: tuple[float, float]) -> SpotPlace:
    """Middle, width and roundness of what is brighter than half the spot's height."""
    above = np.clip(photo.light - background - 0.5 * height, 0.0, None)
    above[photo.clipped] = 0.5 * height
    y, x = np.indices(above.shape) + 0.5
    middle_x, middle_y, half = *start, float(max(above.shape))
    # What lies far from the spot, such as hot pixels, drops out step by step.
    for _ in range(6):
        own = np.where(np.hypot(x - middle_x, y - middle_y) < 2.5 * half, above, 0.0)
        total = float(own.sum())
        if total <= 0.0:
            raise PhotographError(f"{photo.name}: no bright spot stands out; keep the LED in the middle")
        middle_x, middle_y = float((own * x).sum()) / total, float((own * y).sum()) / total
        half = max(1.0, float(np.sqrt((own > 0.0).sum() / np.pi)))
    aside, up = x - middle_x, y - middle_y
    inside = own > 0.0
    spread = np.cov(np.stack([aside[inside], up[inside]])) if inside.sum() > 3 else np.eye(2)
    axes = np.sqrt(np.maximum(np.linalg.eigvalsh(spread), 1e-12))
    stretch = float(axes[1] / axes[0])
    if half < _LEAST_PIXELS:
        raise PhotographError(
            f"{photo.name}: the spot is only {2 * half * photo.shrink:.0f} pixels wide at half its brightness; "
            "go nearer or zoom in"
        )
    if stretch > _LONGEST:
        raise PhotographError(
            f"{photo.name}: the spot is {stretch:.1f} times as long as wide: light one LED alone, "
            "and look at the offcut straight on"
        )
    tall, wide = photo.light.shape
    room = min(middle_x, middle_y, wide - middle_x, tall - middle_y)
    if room < 2.0 * half:
        raise PhotographError(f"{photo.name}: the frame cuts the spot; leave twice its width free all round")
    return SpotPlace(middle_x, middle_y, half, background + height, background, stretch)


def profile_of(photo: Photograph, place: SpotPlace) -> Profile:
    """Mean brightness in rings round the spot, as far as the frame's nearest side.

    The error of a ring is that of its mean, from its pixels' scatter.
    """
    tall, wide = photo.light.shape
    reach = min(place.x, place.y, wide - place.x, tall - place.y)
    width = max(1.0, place.half / 16.0)
    inner = np.arange(0.0, place.half, width)
    outer = np.geomspace(place.half, reach, max(4, int(np.log(reach / place.half) / 0.06)))
    edges = np.unique(np.concatenate([inner, outer]))
    y, x = np.indices(photo.light.shape) + 0.5
    radius = np.hypot(x - place.x, y - place.y).ravel()
    ring = np.digitize(radius, edges) - 1
    inside = ring < len(edges) - 1
    ring, values, burnt = ring[inside], photo.light.ravel()[inside], photo.clipped.ravel()[inside]
    count = len(edges) - 1

    every, lost = (np.bincount(which, minlength=count) for which in (ring, ring[burnt]))
    own, values, radii = ring[~burnt], values[~burnt], radius[inside][~burnt]

    def gathered(weights: Floats) -> Floats:
        return np.bincount(own, weights, count).astype(np.float64)

    pixels = gathered(np.ones(len(own)))
    least = np.maximum(pixels, 1.0)
    mean = gathered(values) / least
    scatter = np.sqrt(np.maximum(gathered(values**2) / least - mean**2, 0.0))
    middle = np.sqrt(gathered(radii**2) / least)
    burnt_out = lost > np.maximum(1.0, _BURNT * every)
    kept = (pixels >= 1) & ~burnt_out
    clipped_to = float(edges[1:][burnt_out].max(initial=0.0))
    return Profile(
        radius=middle[kept] * photo.shrink,
        light=mean[kept],
        error=(scatter / np.sqrt(least))[kept],
        clipped_to=clipped_to * photo.shrink,
    )


def clipped_too_far(place: SpotPlace, profile: Profile, shrink: int) -> bool:
    """Whether so much of the spot's middle is clipped that its height is unknown."""
    return profile.clipped_to > _CLIPPED_CORE * place.half * shrink
