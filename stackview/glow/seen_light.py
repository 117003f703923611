"""A plate's luminance from light that came by chance: noise taken out where it is no detail.

The picture is split into octaves of detail, coarse to fine, each on pixels twice as wide as the one below
(P. Burt, E. Adelson, "The Laplacian pyramid as a compact image code", IEEE Trans. Comm. 31(4), 1983). Groups of
ways tell how far each detail may be chance, and it is kept only as far as it is more (positive-part
shrinkage: W. James, C. Stein, "Estimation with quadratic loss", 1961).
"""

from dataclasses import dataclass
from types import EllipsisType

import numpy as np

from stackview.arrays import Singles

LOTS = 8
"""Groups that the noise and the error are taken from."""
_STRICT, _SPARSE, _STRICTER = 2.5, 4.0, 3.5
"""A detail counts as far as its square exceeds so many variances; more where fewer ways than this have brought light to a
pixel, so that the variance is itself a guess."""
_COARSEST = 3
"""A picture no larger than this each way is its mean alone [px]."""
_LARGE = 65_536
"""Several pictures larger than this are blurred one after the other [px]."""
EVEN_OCTAVES = 2
"""Arrived that came by a matt face is spread over four widths of the eye's blur: it has no finer detail."""


@dataclass(frozen=True, slots=True, eq=False)
class SeenLight:
    """What an eye sees of a plate.

    clean : (g, h, w) luminance by groups [cd/m²], as the eye blurs it, with chance taken out;
    lenient : (h, w) the same of all groups with less taken out, too bright where chance is [cd/m²];
    taken : root mean square of true detail that was taken out with it [cd/m²].
    """

    clean: Singles
    lenient: Singles
    taken: float


def seen_light(
    sharp: Singles,
    even: Singles,
    mask: Singles,
    sigma: float,
    ways: float | Singles,
    octaves: int = EVEN_OCTAVES,
) -> SeenLight:
    """What an eye sees of a plate.

    Parameters
    ----------
    sharp, even : (g, h, w) light of each pixel by groups, zero outside the mask [cd/m²]; ``even`` is what came by
        matt faces
    mask : (h, w) 1 for the plate's pixels, else 0
    sigma : standard deviation of the eye's blur [px]
    ways : how many have brought light to each pixel, of all groups together; (h, w) where some got more than others,
        and then ``taken`` is that of these above all
    octaves : of detail that ``even`` light has not
    """
    kernel = bell_weights(sigma)
    light = sharp + mask * _softened(even, mask, kernel, octaves)
    _, clean, lenient, square = _cleaned(light, mask, kernel, ways)
    return SeenLight(clean, lenient, float(np.sqrt(square)))


def _cleaned(
    light: Singles, mask: Singles, kernel: Singles, ways: float | Singles
) -> tuple[Singles, Singles, Singles, float]:
    """The picture blurred_across once, the same with only so much of its details as is not chance, and what that took.

    The last is the mean square of true detail that is gone: of all that is gone, less what chance explains.
    """
    if max(mask.shape) <= _COARSEST:
        mean = light.sum(axis=(1, 2), keepdims=True) / max(float(mask.sum()), 1e-9)
        flat = np.broadcast_to(mean, light.shape).astype(np.float32)
        return flat, flat, flat[0], 0.0
    near = blurred_across(mask, kernel)
    # A little beyond the rim too, where coarse pixels are taken in between.
    weight = np.where(near > 1e-5, 1.0 / np.maximum(near, np.float32(1e-5)), np.float32(0.0))
    raw = blurred_across(light, kernel) * weight
    fewer = 4.0 * ways if isinstance(ways, float | int) else _halved(ways)
    rough_raw, rough, lenient, square = _cleaned(_halved(light), _halved(mask), kernel, fewer)
    like = mask.shape
    detail = raw - _doubled(rough_raw, like)
    mean = detail.mean(axis=0)
    # Mean square and variance are themselves chance in one place: taken over the blur's width.
    chance = blurred_across(detail.var(axis=0, ddof=1) * mask, kernel) * weight / np.float32(len(detail))
    size = blurred_across(mean * mean * mask, kernel) * weight
    strict = np.where(np.asarray(ways) >= _SPARSE, np.float32(_STRICT), np.float32(_STRICTER))
    share = chance / np.maximum(size, np.float32(1e-20))
    kept = np.maximum(0.0, 1.0 - strict * share)
    lenient = _doubled(lenient, like) + np.maximum(0.0, 1.0 - share) * mean
    told = mask * np.square(ways, dtype=np.float32)
    gone = float(((1.0 - kept) ** 2 * (size - chance) * told).sum() / max(float(told.sum()), 1e-9))
    return raw, _doubled(rough, like) + kept * detail, lenient, square + max(gone, 0.0)


def _softened(light: Singles, mask: Singles, kernel: Singles, octaves: int) -> Singles:
    if octaves == 0 or max(mask.shape) <= _COARSEST:
        return np.asarray(
            blurred_across(light, kernel) / np.maximum(blurred_across(mask, kernel), np.float32(1e-6)),
            np.float32,
        )
    return _doubled(_softened(_halved(light), _halved(mask), kernel, octaves - 1), mask.shape)


def bell_weights(sigma: float) -> Singles:
    """Weights (2k + 1,) of a Gaussian at the pixels' middles, as :func:`stackview.glow.blur.masked_blur` has it."""
    reach = int(np.ceil(4.0 * sigma)) + 1
    weight = np.exp(-0.5 * (np.arange(-reach, reach + 1) / max(sigma, 1e-3)) ** 2)
    return np.asarray(weight / weight.sum(), np.float32)


def blurred_across(pictures: Singles, kernel: Singles) -> Singles:
    """Pictures (..., h, w) blurred_across down and across; beyond the rim there is nothing."""
    if pictures.ndim > 2 and pictures[0].size > _LARGE:
        # One after the other, so that each stays in the processor's memory.
        return np.stack([blurred_across(picture, kernel) for picture in pictures])
    for axis in (-1, -2):
        size, reach = pictures.shape[axis], len(kernel) // 2
        total = kernel[reach] * pictures
        part = np.empty_like(total)
        for shift in range(1, min(reach, size - 1) + 1):
            ahead, behind = _cut(axis, shift, size), _cut(axis, 0, size - shift)
            total[behind] += np.multiply(kernel[reach + shift], pictures[ahead], out=part[ahead])
            total[ahead] += np.multiply(kernel[reach - shift], pictures[behind], out=part[behind])
        pictures = total
    return pictures


def _cut(axis: int, start: int, stop: int, step: int = 1) -> tuple[EllipsisType | slice, ...]:
    own = slice(start, stop, step)
    return (..., own, slice(None)) if axis == -2 else (..., own)


def _halved(pictures: Singles) -> Singles:
    """Sums over squares of two pixels."""
    height, width = pictures.shape[-2:]
    pad = [(0, 0)] * (pictures.ndim - 2) + [(0, height % 2), (0, width % 2)]
    even = np.pad(pictures, pad)
    return np.asarray(
        even[..., ::2, ::2] + even[..., 1::2, ::2] + even[..., ::2, 1::2] + even[..., 1::2, 1::2]
    )


def _doubled(pictures: Singles, shape: tuple[int, ...]) -> Singles:
    """Pictures on pixels half as wide, in between by straight lines; empty pixels count as their neighbours do."""
    for axis in (-2, -1):
        size = pictures.shape[axis]
        new = list(pictures.shape)
        new[axis] = 2 * size
        doubled = np.empty(new, np.float32)
        whole, quarter = 0.75 * pictures, 0.25 * pictures
        low, high = (doubled[_cut(axis, start, 2 * size, 2)] for start in (0, 1))
        first, last = _cut(axis, 0, 1), _cut(axis, size - 1, size)
        ahead, behind = _cut(axis, 1, size), _cut(axis, 0, size - 1)
        np.add(whole[ahead], quarter[behind], out=low[ahead])
        np.add(whole[behind], quarter[ahead], out=high[behind])
        low[first], high[last] = whole[first] + quarter[first], whole[last] + quarter[last]
        pictures = doubled
    return np.asarray(pictures[..., : shape[-2], : shape[-1]])
