"""A rendered picture with the renderer's noise taken out, as pictures for the eye want it."""

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
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
_IN_GAPS = 2.0
"""Over so many windows is what chance explains evened out in gaps between opaque parts."""
_LOST = 2.0
"""A gap of whose light the denoiser leaves less than half is not left to it at all."""
_DARK = 0.6
"""By day a gap has less than this share of the light about it."""
_LEAST_COVER = 0.1
"""A pixel that shows less of a slit tells nothing of its light."""
TIMES = 12.0
"""Chance may show the room's light in one pixel of a neighbourhood, not this many times its mean."""


def cleaned(picture: Singles, seen: PartsSeen, taken: Taken, gaps: Singles | None = None) -> Singles:
    """Picture (h, w, 3) without noise: rare ways of light in the room spread out, the rest denoised.

    A table and a wall get the lamp's light evenly, so what outshines its neighbourhood there is
    chance: a few ways that happened on the lamp through its narrow gaps. Their light is kept, but
    spread widely over the room. Narrow slits keep their light (:func:`true_to`), and so do ``gaps``, the share
    (h, w) of each pixel that shows one (:func:`gap_shares`). For photographs only: luminances are to be read from
    the picture as rendered.
    """
    share = taken.room.share
    room = share >= 1.0
    calm = held(picture, room)
    rest = np.asarray((picture - calm) * room[..., None], np.float32)
    smooth = denoised(calm, seen.albedo, seen.normals)
    smooth = true_to(calm, smooth, taken.acrylic)
    if gaps is not None:
        smooth = _found_again(calm, smooth, gaps, taken)
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


def true_to(picture: Singles, smooth: Singles, slits: NDArray[np.floating], widely: float = 0.5) -> Singles:
    """Denoised picture (h, w, 3) whose narrow slits have the light of the picture as rendered.

    In slits two or three pixels wide the denoiser makes up light: sums came out a third too large
    and single pixels six times; of what few ways bring into a gap it left a tenth. So where acrylic or a gap is thin,
    which covers the share ``slits`` (h, w) of each pixel, it gets the rendered light, and what chance explains is
    evened out (:func:`_evened`); a pixel at a slit's rim gets its share of that, or slanted slits would have steps.
    Pixels beside it may not exceed the brightest within two pixels. On wide plates the denoiser is trusted.
    ``widely`` : over how many of the usual windows chance is evened out.
    """
    cover = slits.astype(np.float64)
    weight = _thinness(cover >= 0.5)
    rendered, soft = picture @ LUMINANCE, np.maximum(smooth @ LUMINANCE, 1e-9)
    radius = _window_of(cover)
    own = np.maximum(cover, _LEAST_COVER)
    # Of what stands beside the slit in the same pixel.
    beside = _beside(smooth, cover)
    of_acrylic = np.maximum(rendered - (1.0 - cover) * (beside @ LUMINANCE), 0.0) / own
    inside = _evened(of_acrylic, ((rendered - soft) / own) ** 2, cover, round(widely * radius))
    # One colour over wide windows: the few ways of light that find a slit would leave specks of their own. What
    # stands beside it keeps its colour, or it would get a fringe of the acrylic's.
    slit = inside[..., None] * _hue(picture, cover >= 0.5, radius) * cover[..., None]
    slit += beside * (1.0 - cover)[..., None]
    other = smooth * (np.minimum(soft, _most_about(rendered, 2)) / soft)[..., None]
    level = np.where((cover > 0.0)[..., None], slit, other)
    return np.asarray(smooth + weight[..., None] * (level - smooth), np.float32)


def _found_again(picture: Singles, smooth: Singles, gaps: Singles, taken: Taken) -> Singles:
    """Denoised picture (h, w, 3) whose gaps, the share (h, w) of each pixel, have the light that it lost there.

    Where few ways of light find out of a gap the denoiser takes most of them for chance; elsewhere it keeps their light,
    and its edges are the better ones. Pixels that show any acrylic have light enough, and what is dark along the lamp's
    outline is a rim.
    """
    wide = HUE * _window_of(gaps) // 2
    rendered, soft = (_spread(light @ LUMINANCE, gaps, wide) for light in (picture, smooth))
    lost = np.clip(_LOST * (1.0 - soft / np.maximum(rendered, 1e-12)), 0.0, 1.0)
    lost[(taken.acrylic > 0.0) | (box_sum(taken.room.share.astype(np.float64), 2) > 1e-9)] = 0.0
    level = true_to(picture, smooth, gaps, _IN_GAPS)
    return np.asarray(smooth + lost[..., None] * (level - smooth), np.float32)


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
    inside, about = mask.astype(np.float64), _thin_in(mask)
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
    own = _hue(picture / dye, inner, _window_of(wood)) * dye
    level = (picture @ LUMINANCE) / np.maximum(own @ LUMINANCE, 1e-9)
    return np.asarray(np.where(inner[..., None], own * level[..., None], picture), np.float32)


def thin_gaps(day: Singles, opaque: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Thin gaps (h, w) between opaque parts (h, w) that day (h, w, 3) leaves dark."""
    return opaque & ((day @ LUMINANCE) < _DARK * _gaps_filled(day, opaque))


def gap_shares(day: Singles, opaque: NDArray[np.bool_]) -> Singles:
    """Share (h, w) of each pixel that shows a thin gap (:func:`thin_gaps`): the darker by day, the more of it."""
    gap, wood = thin_gaps(day, opaque), _gaps_filled(day, opaque)
    light = (day @ LUMINANCE).astype(np.float64)
    deep = _means(light, gap, _window_of(opaque) // 2)
    share = np.clip((wood - light) / np.maximum(wood - deep, 1e-6), 0.0, 1.0)
    near = box_sum(gap.astype(np.float64), 1) > 0.5
    return np.where(near & opaque, share, 0.0).astype(np.float32)


def _gaps_filled(day: Singles, opaque: NDArray[np.bool_]) -> NDArray[np.float64]:
    """Light (h, w) of day (h, w, 3) on opaque parts (h, w) as if their thin gaps were as light as what is about them.

    Dark places in which a square finds room stay dark (morphological closing: Serra, as for :func:`_thinness`).
    """
    about = _thin_in(opaque)
    return -_most_about(-_most_about(np.where(opaque, day @ LUMINANCE, 0.0), about), about)


def _thin_in(picture: NDArray[np.floating] | NDArray[np.bool_]) -> int:
    """Half-width of the square that finds no room in what is thin, in a picture (h, w) [pixels]."""
    shorter: int = min(picture.shape)
    return max(4, round(_THIN * shorter))


def _window_of(picture: NDArray[np.floating] | NDArray[np.bool_]) -> int:
    """Half-width of the windows over which slits and gaps keep their light, in a picture (h, w) [pixels]."""
    shorter: int = min(picture.shape)
    return max(3, round(_WINDOW * shorter))


def _means(values: NDArray[np.float64], mask: NDArray[np.bool_], radius: int) -> NDArray[np.float64]:
    """Means (h, w) over each window of what lies in a mask (h, w); 0 where it holds nothing."""
    return _sums(values, mask, radius) / np.maximum(box_sum(mask.astype(np.float64), radius), 1.0)


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


def _most_about(values: NDArray[np.floating], radius: int) -> NDArray[np.float64]:
    """The greatest value (h, w) within a square about each pixel, as far as it lies in the picture."""
    most = values.astype(np.float64)
    for axis in (0, 1):
        rim = np.pad(
            most, [(radius, radius) if axis == own else (0, 0) for own in range(2)], constant_values=-np.inf
        )
        most = sliding_window_view(rim, 2 * radius + 1, axis).max(axis=-1)
    return np.asarray(most)


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
