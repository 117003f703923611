"""All of a plate, rendered alike: its mean, the surround of each place, and where it may be brightest.

Of a large plate that spreads its light evenly, and so shows no fine detail, pixels that lie apart stand for all.
"""

from dataclasses import dataclass

import numpy as np

from stackview.arrays import Floats, Whole
from stackview.glow.blur import masked_blur
from stackview.glow.places import BrightPlace, apart, scatter
from stackview.glow.plates_seen import Plate
from stackview.glow.seen_light import EVEN_OCTAVES, LOTS, seen_light

_SEARCH, _SEARCH_WAYS = 0.3, 600_000
"""The brightest place is looked for until its light is known so well as rendered, or so many ways have been spent on it."""
_SEARCH_APART, _SEARCH_APART_WAYS = 0.2, 2_000_000
"""The same for a plate that is looked at pixels apart, but of a place of mean light: among so many one is lucky."""
_ENOUGH = 12_000
"""Of a plate without fine detail no more pixels than about so many are rendered while the brightest place is looked for."""
_CANDIDATES = 12
"""Places that may be the brightest, at most; a third more where there is a surround."""
_BLURS, _SURELY = 4, 3.0
"""Most of them are picked by what is sure of their light in one of so many octaves of blur, less so many errors."""
_APART, _REACH = 2.5, 3.0
"""How far places lie apart, and how far the pixels of one reach, in standard deviations of the eye's blur."""


@dataclass(frozen=True, slots=True, eq=False)
class PlateShown:
    """What the samples of the whole plate show [cd/m²].

    clean, lenient : (m,) luminance with chance taken out, and with less of it; around : (m,) of the surround.
    """

    clean: Floats
    lenient: Floats
    around: Floats

    @property
    def ratio(self) -> Floats:
        """Of the luminance to that of the surround (m,)."""
        return self.clean / np.maximum(self.around, 1e-9)


class WholePlate:
    """Samples of all of a plate, as many of each pixel.

    Parameters
    ----------
    plate : where it is seen
    blur, surround : standard deviations [px], as for :func:`stackview.glow.hot_spots.hot_spot`
    """

    def __init__(self, plate: Plate, blur: float, surround: float) -> None:
        self._blur, self._surround = max(blur, 0.3), surround
        self._mask = plate.mask[plate.window]
        top, left = (own.start for own in plate.window)
        down, across = np.nonzero(self._mask)
        self.rows: Whole = down + top
        self.columns: Whole = across + left
        """Of its pixels (n,) in the picture."""
        self.step = step = _step(plate, len(down), self._blur, surround)
        self.over = np.flatnonzero((down % step == 0) & (across % step == 0))
        """Those (m,) that stand for the whole plate: all of them, or such as lie some pixels apart."""
        self._cells = down[self.over] // step, across[self.over] // step
        self.rough = self._blur if step == 1 else max(self._blur, float(step))
        """Standard deviation of the blur that the brightest place is looked for with [px]."""
        self.samples = 0
        self.even = np.zeros((LOTS, len(self.over)))
        """Luminance by groups, means of so many samples [cd/m²]."""
        self.shown = PlateShown(*np.zeros((3, len(self.over))))

    def take(self, light: Floats, each: int, *, searched: bool) -> None:
        """Take in means (groups, m) of so many samples in all; what they show is worked out unless that was ``searched``."""
        self.samples += each
        self.even += (light - self.even) * (each / self.samples)
        if not searched:
            self.shown = self._as_shown()

    @property
    def mean(self) -> tuple[float, float]:
        """Its luminance [cd/m²], and the relative error."""
        return scatter(self.even)

    def search_lacks(self, error: float) -> tuple[float, int]:
        """By how much the brightest place is known too badly to look no further, and the samples that this is worth."""
        if self.step == 1:
            spot, most = self.seen_at(int(self.shown.ratio.argmax()))[1] / max(_SEARCH, error), _SEARCH_WAYS
        else:
            chance = np.sqrt(self._chance / (4.0 * np.pi)) * self.step / self.rough
            spot = float(chance / max(self.even.mean(), 1e-9)) / max(_SEARCH_APART, error)
            most = _SEARCH_APART_WAYS
        return spot, most // len(self.over)

    @property
    def _chance(self) -> float:
        """Variance of a pixel's mean, in the mean of those that stand for the plate [(cd/m²)²]."""
        return float(self.even.var(axis=0, ddof=1).mean()) / LOTS

    def _as_shown(self) -> PlateShown:
        step = self.step
        mask = self._mask[::step, ::step]
        pictures = np.zeros((LOTS, *mask.shape), np.float32)
        pictures[:, *self._cells] = self.even
        none = np.zeros_like(pictures)
        seen = seen_light(pictures, none, mask.astype(np.float32), self.rough / step, self.samples)
        clean = np.maximum(seen.clean.mean(axis=0), 0.0).astype(np.float64)
        around = masked_blur(clean, mask, self._surround / step)
        return PlateShown(
            clean[self._cells], seen.lenient[self._cells].astype(np.float64), around[self._cells]
        )

    def candidates(self) -> tuple[tuple[BrightPlace, ...], list[float]]:
        """Places that may be the brightest, and about how bright they are [cd/m²]."""
        sure, shown = self._surely(), self.shown
        levels = [(sure / np.maximum(shown.around, 1e-9), 1.5), (shown.ratio, 3)]
        if np.isfinite(self._surround):
            levels += [(sure, 3)]
        found: list[int] = []
        for level, share in levels:
            found += self._brightest(level, int(_CANDIDATES / share), found)
        places = tuple(self._place(each) for each in found)
        rough = self.shown.clean[found].tolist()
        return places, [place.level or level for place, level in zip(places, rough, strict=True)]

    def _place(self, one: int) -> BrightPlace:
        """The places side by side about one of the pixels that stand for the plate, with what these have shown."""
        square = self._squares(self.over[one])
        wide = 0.5 * _APART * self.rough + 0.5
        beside = np.flatnonzero(square <= wide**2)
        near = np.flatnonzero(square <= (wide + _REACH * self._blur) ** 2)
        away = (self.rows[beside, None] - self.rows[near]) ** 2.0
        away += (self.columns[beside, None] - self.columns[near]) ** 2
        weights = np.where(away <= (_REACH * self._blur) ** 2, np.exp(-0.5 * away / self._blur**2), 0.0)
        weights /= weights.sum(axis=1, keepdims=True)
        used = weights.any(axis=0)
        near, weights = near[used], weights[:, used]
        each = self.samples // LOTS
        if self.step == 1:
            place = BrightPlace(near, weights)
            place.take(self.even[:, near], each)
            return place
        own, share = self._bell(self.over[one], self.rough)
        chance = each * float(share @ self.even[:, own].var(axis=0, ddof=1))
        return BrightPlace(near, weights, _before=[(chance, each / float((share**2).sum()))])

    def _brightest(self, level: Floats, most: int, but: list[int]) -> list[int]:
        rows, columns = self.rows[self.over], self.columns[self.over]
        return apart(level, rows, columns, _APART * self.rough, most, but)

    def _surely(self) -> Floats:
        """Luminance (m,) that each place has in all likelihood, by whichever of some blurs tells the most [cd/m²].

        Where light comes rarely one hit looks like a spot; a broad spot shows only in many pixels together.
        """
        mask = self._mask[:: self.step, :: self.step]
        picture = np.zeros(mask.shape)
        picture[self._cells] = self.even.mean(axis=0)
        mean = max(float(self.even.mean()), 1e-9)
        chance = self._chance
        sure = np.full(len(self.over), -np.inf)
        for octave in range(_BLURS):
            sigma = self.rough / self.step * 2.0**octave
            seen = masked_blur(picture, mask, sigma)[self._cells]
            # Hits scatter as they are counted: by the root of the light, over the pixels that the blur takes together.
            error = np.sqrt(chance * seen / mean / max(4.0 * np.pi * sigma**2, 1.0))
            sure = np.maximum(sure, seen - _SURELY * error)
        return sure

    def _squares(self, pixel: int) -> Floats:
        """Squares of the distances (n,) of all pixels from one [px²]."""
        return np.asarray((self.rows - self.rows[pixel]) ** 2.0 + (self.columns - self.columns[pixel]) ** 2)

    def _bell(self, pixel: int, sigma: float) -> tuple[Whole, Floats]:
        """Which of those that stand for the plate lie near a pixel, and weights in a bell curve that add up to one."""
        count = len(self.over)
        if not np.isfinite(sigma):
            return np.arange(count), np.full(count, 1.0 / count)
        square = self._squares(pixel)[self.over]
        near = np.flatnonzero(square <= (_REACH * sigma) ** 2)
        weight = np.exp(-0.5 * square[near] / sigma**2)
        return near, weight / weight.sum()

    def seen_at(self, one: int) -> tuple[float, float]:
        """Luminance at one of those that stand for the plate, as an eye blurs it, and its relative error."""
        pixels, weight = self._bell(self.over[one], self.rough)
        return scatter(self.even[:, pixels], weight)

    def around(self, place: BrightPlace) -> tuple[float, float]:
        """Luminance about a place [cd/m²], and its relative error."""
        pixels, weight = self._bell(place.middle, self._surround)
        return scatter(self.even[:, pixels], weight)

    def surround_of(self, place: BrightPlace) -> BrightPlace:
        """A place's surround, with what has been shown of it."""
        own, weight = self._bell(place.middle, self._surround)
        about = BrightPlace(self.over[own], weight[None])
        about.take(self.even[:, own], self.samples // LOTS)
        return about


def _step(plate: Plate, count: int, blur: float, surround: float) -> int:
    """How many pixels apart those lie that stand for a plate; some only where it is large and has no finer detail."""
    finest = min(2.0**EVEN_OCTAVES * blur, surround / 4.0) if plate.even else 1.0
    return max(int(min(finest, np.sqrt(count / _ENOUGH))), 1)
