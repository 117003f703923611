"""A rendered picture with the renderer's noise taken out, as pictures for the eye want it."""

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.glow.denoiser import denoised
from stackview.glow.parts_seen import PartsSeen
from stackview.light.colour import LUMINANCE
from stackview.photographs.out_of_focus import blurred_within
from stackview.photographs.photograph import Taken
from stackview.stills.local_tone import box_sum

_AROUND = 1 / 30
"""Half-width of the neighbourhood that a place in the room is held against, over the shorter side."""
_SPREAD = 1 / 4
"""How far the light of such chances is spread (standard deviation), over the shorter side."""
_WAYS_TOGETHER = 100.0
"""Fewer ways of light are spread over all of the room: each would leave a cloud of its own."""
_WINDOW = 1 / 70
"""Half-width of the windows over which acrylic keeps its light, over the shorter side."""
HUE = 6
"""Times as wide are the windows over which it keeps its colour."""
_THIN = 1 / 90
"""Half-width of the square that finds no room in a slit, over the shorter side."""
_OUTSHINES = 4.0
"""A pixel counts for the colour of its window as if it had this many times the mean light there, at most."""
_DARK = 0.6
"""By day a gap has less than this share of the light about it."""
_LEAST_COVER = 0.1
"""A pixel that shows less of a slit tells nothing of its light."""
TIMES = 12.0
"""Chance may show the room's light in one pixel of a neighbourhood, not this many times its mean."""


def cleaned(picture: Singles, seen: PartsSeen, taken: Taken) -> Singles:
    """Picture (h, w, 3) without noise: rare ways of light in the room spread out, the rest denoised.

    A table and a wall get the lamp's light evenly, so what outshines its neighbourhood there is
    chance: a few ways that happened on the lamp through its narrow gaps. Their light is kept, but
    spread widely over the room. Narrow slits keep their light (:func:`true_to`). For photographs
    only: luminances are to be read from the picture as rendered.
    """
    share = taken.room.share
    room = share >= 1.0
    calm = held(picture, room)
    rest = np.asarray((picture - calm) * room[..., None], np.float32)
    smooth = denoised(calm, seen.albedo, seen.normals)
    if taken.acrylic is not None:
        smooth = true_to(calm, smooth, taken.acrylic)
    if not rest.any():
        return smooth
    return np.asarray(smooth + share[..., None] * _spread_out(rest, room), np.float32)


def _spread_out(rest: Singles, room: NDArray[np.bool_]) -> Singles:
    """Light of rare ways (h, w, 3) spread so widely over a room (h, w) that none shows by itself."""
    # One colour for all of it: a single way's own would leave a coloured cloud.
    total = rest.sum(axis=(0, 1), dtype=np.float64)
    colour = np.asarray(total / max(float(total @ LUMINANCE), 1e-12), np.float32)
    light = (rest @ LUMINANCE).astype(np.float64)
    # So many ways of one light would scatter as these do.
    ways = light.sum() ** 2 / (light**2).sum()
    if ways < _WAYS_TOGETHER:
        return np.asarray(np.full((*room.shape, 1), light.sum() / room.sum()) * colour, np.float32)
    return blurred_within(np.asarray(light[..., None] * colour, np.float32), room, _SPREAD * min(room.shape))


def true_to(picture: Singles, smooth: Singles, acrylic: NDArray[np.floating]) -> Singles:
    """Denoised picture (h, w, 3) whose narrow slits have the light of the picture as rendered.

    In slits two or three pixels wide the denoiser makes up light: sums came out a third too large
    and single pixels six times. So where acrylic is thin, which covers the share ``acrylic`` (h, w) of each pixel, it
    gets the rendered light, and what chance explains is evened out (:func:`_evened`); a pixel at a slit's rim gets
    its share of that, or slanted slits would have steps. Pixels beside it may not exceed the brightest within two
    pixels. On wide plates the denoiser is trusted.
    """
    cover = acrylic.astype(np.float64)
    weight = _thinness(cover >= 0.5)
    rendered, soft = picture @ LUMINANCE, np.maximum(smooth @ LUMINANCE, 1e-9)
    radius = max(3, round(_WINDOW * min(cover.shape)))
    own = np.maximum(cover, _LEAST_COVER)
    # Of what stands beside the slit in the same pixel.
    beside = _beside(smooth, cover)
    of_acrylic = np.maximum(rendered - (1.0 - cover) * (beside @ LUMINANCE), 0.0) / own
    inside = _evened(of_acrylic, ((rendered - soft) / own) ** 2, cover, radius // 2)
    # One colour over wide windows: the few ways of light that find a slit would leave specks of their own. What
    # stands beside it keeps its colour, or it would get a fringe of the acrylic's.
    slit = inside[..., None] * _hue(picture, cover >= 0.5, radius) * cover[..., None]
    slit += beside * (1.0 - cover)[..., None]
    other = smooth * (np.minimum(soft, _brightest(rendered)) / soft)[..., None]
    level = np.where((cover > 0.0)[..., None], slit, other)
    return np.asarray(smooth + weight[..., None] * (level - smooth), np.float32)


def _beside(smooth: Singles, cover: NDArray[np.float64]) -> NDArray[np.float64]:
    """What stands beside acrylic (h, w, 3): means of what lies within two pixels and shows none."""
    free = (cover <= 0.0).astype(np.float64)
    count = box_sum(free, 2)
    found = np.stack([box_sum(smooth[..., k] * free, 2) for k in range(3)], axis=2)
    return np.asarray(found / np.maximum(count, 1.0)[..., None])


def _thinness(mask: NDArray[np.bool_]) -> NDArray[np.float64]:
    """How far each pixel lies in or beside what of a mask (h, w) is thin: 1 where no square has room, 0 on wide parts.

    Squares of growing width are laid wherever they fit (morphological opening: Serra, "Image Analysis and
    Mathematical Morphology", 1982), so that the rim of a wide plate counts as wide.
    """
    inside, about = mask.astype(np.float64), max(4, round(_THIN * min(mask.shape)))
    found = []
    for radius in range(about // 2, about + 1):
        fits = box_sum(inside, radius) > box_sum(np.ones(mask.shape), radius) - 0.5
        wide = box_sum(fits.astype(np.float64), radius + 1) > 0.5
        found.append(~wide)
    near = box_sum(inside, 1) > 0.5
    return np.where(near, np.mean(found, axis=0), 0.0)


def _evened(
    values: NDArray[np.floating], chance: NDArray[np.floating], mask: NDArray[np.floating], radius: int
) -> NDArray[np.float64]:
    """Values (h, w), weighed by a mask, drawn to the means about them by as much as ``chance``, their variance, explains.

    J.-S. Lee, "Digital image enhancement and noise filtering by use of local statistics", IEEE Trans. Pattern
    Anal. Mach. Intell. 2(2), 165 (1980), eq. 8.
    """
    count = np.maximum(_spread(np.ones(mask.shape), mask, radius), 1e-9)
    mean, noise = (_spread(own, mask, radius) / count for own in (values, chance))
    varies = np.maximum(_spread(values.astype(np.float64) ** 2, mask, radius) / count - mean**2, 0.0)
    # Twice, for the variance of so few pixels is itself uncertain, and what is left of chance are specks.
    true = np.maximum(varies - 2.0 * noise, 0.0)
    return np.asarray(mean + true / np.maximum(varies, 1e-12) * (values - mean))


def one_hue(picture: Singles, albedo: Singles, wood: NDArray[np.bool_]) -> Singles:
    """Lamplight (h, w, 3) on wood (h, w), its colour that of the light all round and of the wood's ``albedo``.

    Where few ways of light arrive, as deep in a gap, each leaves a speck of its own colour. A lamp's
    light changes its colour slowly from place to place; brightness is kept.
    """
    inner = box_sum((~wood).astype(np.float64), 1) < 0.5
    dye = np.maximum(albedo, 0.02)
    own = _hue(picture / dye, inner, max(3, round(_WINDOW * min(wood.shape)))) * dye
    level = (picture @ LUMINANCE) / np.maximum(own @ LUMINANCE, 1e-9)
    return np.asarray(np.where(inner[..., None], own * level[..., None], picture), np.float32)


def gaps_evened(
    lamp: Singles, day: Singles, opaque: NDArray[np.bool_], believed: NDArray[np.bool_]
) -> Singles:
    """Lamplight (h, w, 3) without specks in those thin gaps between opaque parts (h, w) that day (h, w, 3) leaves dark.

    Gaps that show acrylic or light points, ``believed`` (h, w), near by get light enough, and have edges of light.

    Few ways of light find their way out of them. Where these are so few that pixels differ as single ways do, by about
    their mean, each gets the mean of the gap about it.
    """
    by_day = (day @ LUMINANCE).astype(np.float64)
    radius = max(3, round(_WINDOW * min(opaque.shape)))
    usual = _sums(by_day, opaque, radius) / np.maximum(box_sum(opaque.astype(np.float64), radius), 1.0)
    gap = opaque & (by_day < _DARK * usual) & (box_sum(believed.astype(np.float64), radius) < 0.5)
    # Alone, or a thin rim would take its light from the wide place beside it.
    gap &= _thinness(gap) >= 0.5
    level = (lamp @ LUMINANCE).astype(np.float64)
    count = np.maximum(_spread(np.ones(gap.shape), gap, radius), 1e-9)
    mean = _spread(level, gap, radius) / count
    varies = np.maximum(_spread(level**2, gap, radius) / count - mean**2, 0.0) / np.maximum(mean**2, 1e-12)
    weight = np.where(gap, np.clip(2.0 * varies - 1.0, 0.0, 1.0), 0.0)
    change = 1.0 + weight * (mean / np.maximum(level, 1e-9) - 1.0)
    dark = level < 1e-6
    plain = mean[..., None] * _hue(lamp, gap, radius)
    return np.asarray(
        np.where(dark[..., None], weight[..., None] * plain, lamp * change[..., None]), np.float32
    )


def _hue(light: NDArray[np.floating], mask: NDArray[np.bool_], radius: int) -> NDArray[np.float64]:
    """Colour (h, w, 3) of luminance 1 that the light in a mask (h, w) has over wide windows.

    No pixel counts for much more than the usual one about it: a single light point would dye all of its window.
    """
    luminance = np.maximum(light @ LUMINANCE, 1e-9).astype(np.float64)
    wide = HUE * radius // 2
    count = np.maximum(_spread(np.ones(mask.shape), mask, wide), 1e-9)
    counted = luminance
    for _ in range(4):
        # More than once, since a light point lifts the mean that it is held against.
        counted = np.minimum(counted, _OUTSHINES * _spread(counted, mask, wide) / count)
    share = counted / luminance
    total = np.maximum(_spread(luminance * share, mask, wide), 1e-9)
    return np.stack([_spread(light[..., k] * share, mask, wide) / total for k in range(3)], axis=2)


def _spread(
    values: NDArray[np.floating], mask: NDArray[np.floating] | NDArray[np.bool_], radius: int
) -> NDArray[np.float64]:
    """Sums of what lies in a mask (h, w) over windows that fade out to all sides, so that no edge of one shows."""
    return box_sum(_sums(values, mask, radius), radius)


def _sums(
    light: NDArray[np.floating], mask: NDArray[np.floating] | NDArray[np.bool_], radius: int
) -> NDArray[np.float64]:
    """Sum over each window of what lies in a mask (h, w), by its weight there."""
    return box_sum(np.where(mask > 0, light * mask, 0.0).astype(np.float64), radius)


def _brightest(luminance: NDArray[np.floating]) -> Singles:
    """The brightest within two pixels (h, w)."""
    most = luminance
    for axis in (0, 1):
        rim = np.pad(most, [(2, 2) if axis == own else (0, 0) for own in range(2)], mode="edge")
        length = most.shape[axis]
        most = np.max([np.take(rim, np.arange(k, k + length), axis) for k in range(5)], axis=0)
    return np.asarray(most, np.float32)


def held(picture: Singles, room: NDArray[np.bool_]) -> Singles:
    """Picture (h, w, 3) whose room pixels (h, w) are at most :data:`TIMES` the mean of those around them."""
    luminance = (picture @ LUMINANCE).astype(np.float64)
    radius = max(2, round(_AROUND * min(luminance.shape)))
    inside = room.astype(np.float64)
    others = box_sum(inside, radius) - inside
    for _ in range(2):
        # Twice, since one very bright pixel lifts the mean of its neighbours.
        mean = (box_sum(luminance * inside, radius) - luminance * inside) / np.maximum(others, 1.0)
        most = np.where(room & (others > radius), TIMES * np.maximum(mean, 0.0), np.inf)
        luminance = np.minimum(luminance, most)
    before = np.maximum(picture @ LUMINANCE, 1e-12)
    return np.asarray(picture * np.minimum(luminance / before, 1.0)[..., None], np.float32)
