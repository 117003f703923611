"""Arrived gathered for one plate as one eye sees it, round after round, and what that tells of its spots."""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Ints, Singles
from stackview.glow.blur import masked_blur
from stackview.glow.hot_spots import brightest
from stackview.glow.seen_light import LOTS, seen_light
from stackview.spots.from_eye import joined_light
from stackview.spots.plate_views import PlateView
from stackview.spots.ways import Arrived

_RARE = 100.0
"""A single way's light beyond so many means of its plate is spread out: so rare a sample is chance."""
_JACKKNIFE, _TAKEN_OFF, _FEW, _LEAST = 2.0, 2.0, 3.0, 0.1
"""How the error is made: of what the groups tell, of true detail that was taken off as chance, of how few ways have
brought the light, and at least.

Fitted on 120 answers for plates of Honeycomb, Turning Lantern and Moor Drum, held against four to six times as many
ways read without taking anything off, and one against a rendering of 2,000 ways a pixel."""
_WIDENED = 1.25
"""Times what fits those answers: thirteen plates rendered by ``stackview glow`` asked for it."""
_GIVEN_BACK = 0.2
"""How far the ratio goes, by its logarithm, from the picture with much taken out towards the one with less: so that it
is neither too high nor too low on the mean of the same answers."""
_SHARE, _MAKERS = 0.7, 4
"""The light points that together give so much of the brightest place's light are named, at most so many."""


Brought = tuple[list[Arrived], int, list[tuple[Arrived, int]], int]
"""What ways from the eye have brought, how many these were, and the same of ways from the light points."""


@dataclass(frozen=True, slots=True)
class Told:
    """What a plate's light tells so far: ratio, peak, mean [cd/m²], makers.

    ``ratio_error``, relative, holds the truth in 19 of 20 cases, as tried; ``mean_error`` is the mean's relative
    standard error; makers are numbers of light points, those that give most first.
    """

    ratio: float
    ratio_error: float
    peak: float
    mean: float
    mean_error: float
    makers: tuple[int, ...]


class Gathering:
    """What ways have brought of one plate.

    Arrived comes with cells: the pixel's number among the plate's, and the group times the number of pixels.

    Parameters
    ----------
    view : where the plate is seen
    blur, surround : standard deviations [px], as for :func:`stackview.glow.hot_spots.hot_spot`
    """

    def __init__(self, view: PlateView, blur: float, surround: float) -> None:
        self.view = view
        self._blur, self._surround = blur, surround
        self._backwards, self._forwards = 0, 0
        self._seen: list[Arrived] = []
        self._thrown: list[tuple[Arrived, int]] = []

    @property
    def brought(self) -> "Brought":
        """All light so far, as another process can be sent it."""
        return self._seen, self._backwards, self._thrown, self._forwards

    def bring(self, brought: "Brought") -> None:
        """Have that light, and no other."""
        self._seen, self._backwards, self._thrown, self._forwards = brought

    def take_seen(self, light: Arrived, ways: int) -> None:
        """Take in light of so many ways from the eye, shared evenly among groups and pixels."""
        self._seen.append(light)
        self._backwards += ways

    def take_thrown(self, light: Arrived, ways: int) -> None:
        """Take in luminance that so many ways from all light points brought, shared evenly among groups."""
        self._thrown.append((light, ways))
        self._forwards += ways

    def _whole(self) -> Arrived:
        """All light so far, its values such that their mean over the groups is the pixels' luminance [cd/m²]."""
        parts = []
        if self._backwards:
            evenly = np.float32(LOTS * len(self.view.rows) / self._backwards)
            parts += [(one, evenly) for one in self._seen]
        parts += [(one, np.float32(LOTS * ways / self._forwards)) for one, ways in self._thrown]
        return joined_light(
            [Arrived(one.cell, one.led, one.value * times, one.even, one.plain) for one, times in parts]
        )

    def told(self) -> Told:
        """What is known so far."""
        light, pixels = self._whole(), len(self.view.rows)
        means = np.bincount(light.cell // pixels, light.value, minlength=LOTS) / pixels
        mean = float(means.mean())
        if mean <= 0.0:
            return Told(1.0, 0.0, 0.0, 0.0, 0.0, ())
        # One way's light, were it the plate's only one, is its mean times the ways over the pixels.
        ways = max(self._backwards, self._forwards) / LOTS
        most = np.where(light.plain, np.inf, _RARE * mean * pixels / ways)
        sharp = np.where(light.even, 0.0, np.minimum(light.value, most))
        mask = self.view.mask
        seen = seen_light(
            self._picture(light.cell, sharp),
            self._picture(light.cell, light.value - sharp),
            mask.astype(np.float32),
            self._blur,
            len(light.value) / pixels,
        )
        clean = seen.clean.astype(np.float64)
        picture = np.maximum(clean.mean(axis=0), 0.0)
        around = masked_blur(picture, mask, self._surround)
        best = brightest(picture, around, mask)
        spread, unpicked = _by_leaving_out(clean[:, mask], around[mask])
        lenient = float(seen.lenient[best.at]) / max(float(around[best.at]), 1e-9)
        taken = seen.taken / max(float(picture[best.at]), 1e-9)
        # So many ways of equal light would be as much by chance as these are (Kish 1965).
        few = float(
            np.sqrt(np.square(light.value, dtype=np.float64).sum()) / light.value.sum(dtype=np.float64)
        )
        mean_error = max(float(means.std(ddof=1) / np.sqrt(LOTS) / mean), few)
        parts = (
            _JACKKNIFE * spread / best.ratio,
            np.log(max(best.ratio, 1.0) / max(unpicked, 1.0)),
            np.log(max(best.ratio, lenient, 1.0) / max(best.ratio, 1.0)),
            _TAKEN_OFF * taken,
            _FEW * few,
            _LEAST,
        )
        # What was taken out as chance was in part true: a share of it is given back, the rest is error.
        given_back = (max(lenient, best.ratio, 1.0) / max(best.ratio, 1.0)) ** _GIVEN_BACK
        return Told(
            ratio=best.ratio * float(given_back),
            ratio_error=_WIDENED * float(np.sqrt(np.square(parts).sum())),
            peak=best.peak,
            mean=mean,
            mean_error=mean_error,
            makers=self._makers(light, best.at),
        )

    def _picture(self, cell: Ints, value: Floats | Singles) -> Singles:
        view, pixels = self.view, len(self.view.rows)
        flat = np.bincount(cell, value, minlength=LOTS * pixels).reshape(LOTS, pixels)
        picture = np.zeros((LOTS, *view.mask.shape), np.float32)
        picture[:, view.rows - view.corner[0], view.columns - view.corner[1]] = flat
        return picture

    def _makers(self, light: Arrived, at: tuple[int, int]) -> tuple[int, ...]:
        """Arrived points that make the brightest place, within the eye's blur of it or a quarter pitch."""
        view = self.view
        pixel = light.cell % len(view.rows)
        rows, columns = view.rows[pixel] - view.corner[0], view.columns[pixel] - view.corner[1]
        near = 2.0 * self._blur
        if np.isfinite(self._surround):
            near = max(near, 0.25 * self._surround)
        close = np.hypot(rows - at[0], columns - at[1]) <= max(near, 1.0)
        given = np.bincount(light.led[close], light.value[close], minlength=1)
        order = np.argsort(-given, kind="stable")[:_MAKERS]
        before = np.cumsum(given[order]) - given[order]
        return tuple(int(led) for led in order[(before < _SHARE * given.sum()) & (given[order] > 0.0)])


def _by_leaving_out(levels: Floats, around: Floats) -> tuple[float, float]:
    """Standard error of the ratio by leaving out the groups in turn, and the ratio without the luck of the pick.

    levels : (g, n) luminance by groups; around : (n,) that of the surround. The error is the jackknife's (Efron &
    Stein 1981); the other lets all groups but one pick the place, and reads it from that one (cross-validation:
    Stone 1974).
    """
    ratios = levels / np.maximum(around, 1e-9)
    total, count = ratios.sum(axis=0), len(ratios)
    greatest, unpicked = np.empty(count), np.empty(count)
    for group, own in enumerate(ratios):
        rest = (total - own) / (count - 1)
        best = int(rest.argmax())
        greatest[group], unpicked[group] = rest[best], own[best]
    spread = np.sqrt((count - 1.0) / count * ((greatest - greatest.mean()) ** 2).sum())
    return float(spread), float(unpicked.mean())
