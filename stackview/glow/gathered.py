"""What has been rendered of one plate so far, and how well that tells its hot-spot ratio.

All of the plate first (of a large one that spreads its light only pixels that lie apart), which tells its mean, the surround
of each place, and where it may be brightest. Then those places alone, of which two thirds are left out each time (after
successive halving: Karnin, Koren & Somekh 2013). What is told of the brightest is read from samples that were taken after
it had been picked, so that luck has no part in it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Floats, Singles, Whole
from stackview.glow.blur import masked_blur
from stackview.glow.places import BrightPlace, apart, scatter
from stackview.glow.plates_seen import Plate
from stackview.glow.seen_light import EVEN_OCTAVES, LOTS, seen_light
from stackview.light.colour import LUMINANCE

GROUPS = LOTS
"""Groups that the samples of a round are dealt to, and that the error is taken from."""
_FIRST, _FIRST_WAYS = 64, 600_000
"""Samples of each pixel in the first round, fewer where the plate has so many pixels that they would be more ways."""
_SEARCH, _SEARCH_WAYS = 0.3, 600_000
"""The brightest place is looked for until its light is known so well as rendered, or so many ways have been spent on it."""
_ENOUGH = 12_000
"""Of a plate without fine detail no more pixels than about so many are rendered while the brightest place is looked for."""
_CANDIDATES, _FEW = 12, 5
"""Places that may be the brightest, at most, and so few that each is to be known before the last are left out."""
_TRIAL, _LAST, _AROUND = 1.0, 0.6, 0.4
"""Errors of the places while they are compared, of the brightest one and of its surround, over the one asked for."""
_MISSED = 0.5
"""What the picked place may lack against the brightest in truth, over the error with which places were compared."""
_APART, _REACH = 2.5, 3.0
"""How far places lie apart, and how far the pixels of one reach, in standard deviations of the eye's blur."""
_MOST, _LEAP = 65_536, 512
"""Samples for each pixel, at most, and of a place in a single round before it is known better."""


@dataclass(frozen=True, slots=True)
class PlateGlow:
    """One acrylic layer as it looks from the place; errors are relative standard errors.

    ``samples`` : for each pixel of the whole plate that was rendered, more at its brightest place.
    """

    layer: str
    hot_spot_ratio: float
    ratio_error: float
    peak_cd_m2: float
    peak_error: float
    mean_cd_m2: float
    mean_error: float
    samples: int


@dataclass(frozen=True, slots=True, eq=False)
class Round:
    """What is to be rendered next: pixels (k,) of a plate, by number, and samples of all or each (k,) in each group.

    ``places`` : whose pixels they are; none where they are all of the plate's.
    """

    pixels: Whole
    each: int | Whole
    places: tuple[BrightPlace, ...] = ()

    @property
    def counts(self) -> Whole:
        """Samples of each pixel (k,) in each group."""
        return np.broadcast_to(self.each, self.pixels.shape)

    @property
    def ways(self) -> int:
        """Ways of light in all."""
        return int(self.counts.sum()) * GROUPS

    def within(self, ways: float) -> "Round | None":
        """The same with fewer samples, no more ways than so many; None where each pixel could not have one."""
        if ways < len(self.pixels) * GROUPS:
            return None
        if isinstance(self.each, int):
            return Round(self.pixels, min(int(ways / (len(self.pixels) * GROUPS)), self.each), self.places)
        fewer = np.maximum((self.each * min(ways / self.ways, 1.0)).astype(np.int64), 1)
        return Round(self.pixels, fewer, self.places)


@dataclass(frozen=True, slots=True, eq=False)
class _Shown:
    """What the samples of the whole plate show [cd/m²].

    clean, lenient : (m,) luminance with chance taken out, and with less of it; around : (m,) of the surround.
    """

    clean: Floats
    lenient: Floats
    around: Floats

    @property
    def ratio(self) -> Floats:
        return self.clean / np.maximum(self.around, 1e-9)


class Gathered:
    """Samples of one plate, round after round.

    Parameters
    ----------
    plate : where it is seen
    blur, surround : standard deviations [px], as for :func:`stackview.glow.hot_spots.hot_spot`
    """

    def __init__(self, plate: Plate, blur: float, surround: float) -> None:
        self.plate = plate
        self._blur, self._surround = max(blur, 0.3), surround
        top, left = (own.start for own in plate.window)
        down, across = np.nonzero(plate.mask[plate.window])
        self.rows, self.columns = down + top, across + left
        """Of its pixels (n,) in the picture."""
        count = len(down)
        self._step = step = _step(plate, count, self._blur, surround)
        self._over = np.flatnonzero((down % step == 0) & (across % step == 0))
        """Those (m,) that stand for the whole plate: all of them, or such as lie some pixels apart."""
        self._cells = down[self._over] // step, across[self._over] // step
        self._rough = self._blur if step == 1 else max(self._blur, float(step))
        """Standard deviation of the blur that the brightest place is looked for with [px]."""
        self.samples = 0
        self.picture, self.count = np.zeros((count, 3), np.float32), np.zeros(count, np.float32)
        """Luminance by channel (n, 3) of its pixels as rendered [cd/m²], and how many samples (n,) that is the mean of."""
        self._even = np.zeros((GROUPS, len(self._over)))
        self._shown = _Shown(*np.zeros((3, len(self._over))))
        self._places: tuple[BrightPlace, ...] = ()
        self._levels: list[float] = []
        """Of the places, as they were when these were chosen [cd/m²]."""
        self._about: BrightPlace | None = None
        """The surround of the picked place, where that is not all of the plate."""
        self._picked, self._missed = False, (0.0, 0.0)
        self._asked = 1.0
        self.glow = PlateGlow(plate.name, 1.0, 1.0, 0.0, 1.0, 0.0, 1.0, 0)

    def wants(self, error: float) -> Round | None:
        """What to render next until the ratio is known to ``error``; None once it is."""
        self._asked = error
        if not self.samples:
            return self._all(int(np.clip(_FIRST_WAYS // len(self._over), GROUPS, _FIRST)) // GROUPS)
        if not self._places:
            lacks = self._search_lacks(error)
            if lacks:
                return self._all(lacks)
            self._places, self._levels = self._candidates()
        if not self._picked:
            return self._some(_TRIAL * error)
        if self.known(error):
            return None
        around = self._around(self._places[0])[1] / (_AROUND * error)
        if around > 1.1 and self._about is None and self.samples < _MOST:
            return self._all(_more(self.samples, around))
        if around > 1.1 and self._about is not None and self._about.taken < _MOST:
            return _round((self._about,), [self._about.level], _AROUND * error)
        return self._some(_LAST * error) if max(place.taken for place in self._places) < _MOST else None

    def known(self, error: float) -> bool:
        """Whether the ratio is known to ``error``, by samples of the brightest place taken after it was picked."""
        taken = self._picked and all(place.taken for place in self._places)
        return taken and self.glow.ratio_error <= error

    def take(self, one: Round, light: Singles) -> None:
        """Take in a round: means (GROUPS, k, 3) of its samples by channel [cd/m²]."""
        each, of = one.each * GROUPS, luminance_of(light)
        self.count[one.pixels] += each
        share = (each / self.count[one.pixels])[:, None]
        self.picture[one.pixels] += (light.mean(axis=0) - self.picture[one.pixels]) * share
        if not one.places and isinstance(each, int):
            self.samples += each
            self._even += (of - self._even) * (each / self.samples)
            if not self._places:
                self._shown = self._as_shown()
        for place in one.places:
            own = np.searchsorted(one.pixels, place.pixels)
            place.take(of[:, own], one.counts[own])
        if one.places and not self._picked and self._compared():
            self._leave_out()
        self.glow = self._told()

    def _all(self, each: int) -> Round:
        return Round(self._over, max(each, 1))

    def _some(self, error: float) -> Round:
        return _round(self._places, self._levels, error)

    def _search_lacks(self, error: float) -> int:
        """Further samples of each group of the whole plate before its places are compared."""
        mean = scatter(self._even)[1] / (_AROUND * error)
        best = int(self._shown.ratio.argmax())
        spot = self._seen_at(best)[1] / max(_SEARCH, error)
        each = _more(self.samples, mean) if mean > 1.05 and self.samples < _MOST else 0
        left = (_SEARCH_WAYS - self.samples * len(self._over)) // (len(self._over) * GROUPS)
        return max(each, min(_more(self.samples, spot), left) if spot > 1.05 else 0)

    def _as_shown(self) -> _Shown:
        step = self._step
        mask = self.plate.mask[self.plate.window][::step, ::step]
        pictures = np.zeros((GROUPS, *mask.shape), np.float32)
        pictures[:, *self._cells] = self._even
        none = np.zeros_like(pictures)
        seen = seen_light(pictures, none, mask.astype(np.float32), self._rough / step, self.samples)
        clean = np.maximum(seen.clean.mean(axis=0), 0.0).astype(np.float64)
        around = masked_blur(clean, mask, self._surround / step)
        return _Shown(clean[self._cells], seen.lenient[self._cells].astype(np.float64), around[self._cells])

    def _candidates(self) -> tuple[tuple[BrightPlace, ...], list[float]]:
        """Places that may be the brightest, and about how bright they are [cd/m²]."""
        found = self._brightest(self._shown.ratio, _CANDIDATES)
        if np.isfinite(self._surround):
            found += self._brightest(self._shown.clean, _CANDIDATES // 3)
        found = list(dict.fromkeys(found))
        places = tuple(self._place(each) for each in found)
        rough = self._shown.clean[found].tolist()
        return places, [place.level or level for place, level in zip(places, rough, strict=True)]

    def _place(self, one: int) -> BrightPlace:
        """The places side by side about one of the pixels that stand for the plate, with what these have shown."""
        square = self._squares(self._over[one])
        wide = 0.5 * _APART * self._rough + 0.5
        beside = np.flatnonzero(square <= wide**2)
        near = np.flatnonzero(square <= (wide + _REACH * self._blur) ** 2)
        away = (self.rows[beside, None] - self.rows[near]) ** 2.0
        away += (self.columns[beside, None] - self.columns[near]) ** 2
        weights = np.where(away <= (_REACH * self._blur) ** 2, np.exp(-0.5 * away / self._blur**2), 0.0)
        weights /= weights.sum(axis=1, keepdims=True)
        used = weights.any(axis=0)
        near, weights = near[used], weights[:, used]
        each = self.samples // GROUPS
        if self._step == 1:
            place = BrightPlace(near, weights)
            place.take(self._even[:, near], each)
            return place
        own, share = self._bell(self._over[one], self._rough)
        chance = each * float(share @ self._even[:, own].var(axis=0, ddof=1))
        return BrightPlace(near, weights, _before=[(chance, each / float((share**2).sum()))])

    def _brightest(self, level: Floats, most: int) -> list[int]:
        rows, columns = self.rows[self._over], self.columns[self._over]
        return apart(level, rows, columns, _APART * self._rough, most)

    def _squares(self, pixel: int) -> Floats:
        """Squares of the distances (n,) of all pixels from one [px²]."""
        return np.asarray((self.rows - self.rows[pixel]) ** 2.0 + (self.columns - self.columns[pixel]) ** 2)

    def _bell(self, pixel: int, sigma: float) -> tuple[Whole, Floats]:
        """Which of those that stand for the plate lie near a pixel, and weights in a bell curve that add up to one."""
        count = len(self._over)
        if not np.isfinite(sigma):
            return np.arange(count), np.full(count, 1.0 / count)
        square = self._squares(pixel)[self._over]
        near = np.flatnonzero(square <= (_REACH * sigma) ** 2)
        weight = np.exp(-0.5 * square[near] / sigma**2)
        return near, weight / weight.sum()

    def _seen_at(self, one: int) -> tuple[float, float]:
        """Luminance at a place as an eye blurs it, by the samples of the whole plate, and its relative error."""
        pixels, weight = self._bell(self._over[one], self._rough)
        return scatter(self._even[:, pixels], weight)

    def _around(self, place: BrightPlace) -> tuple[float, float]:
        """Luminance about a place [cd/m²], and its relative error."""
        if self._about is not None:
            return self._about.level, self._about.error
        pixels, weight = self._bell(place.middle, self._surround)
        return scatter(self._even[:, pixels], weight)

    def _surround_of(self, place: BrightPlace) -> BrightPlace:
        """Its surround, with what the samples of the whole plate have shown of it."""
        own, weight = self._bell(place.middle, self._surround)
        about = BrightPlace(self._over[own], weight[None])
        about.take(self._even[:, own], self.samples // GROUPS)
        return about

    def _compared(self) -> bool:
        """Whether the places have the samples that comparing them takes: many of them have after one round."""
        few = len(self._places) <= _FEW
        return not few or all(
            place.error <= 1.25 * _TRIAL * self._asked or place.taken >= 8 * _LEAP for place in self._places
        )

    def _leave_out(self) -> None:
        """Go on with the brightest third of the places, at last with one for the ratio and one for the peak."""
        level = np.array([place.level for place in self._places])
        around = np.array([max(self._around(place)[0], 1e-9) for place in self._places])
        chance = level * [place.error for place in self._places]
        # What a place has over its surround counts as far as it is more than chance (James & Stein 1961).
        over = level - around
        sure = np.where(over > 0.0, over - chance**2 / np.maximum(over, 1e-9), over - chance)
        ratio, level = sure / around, around + sure
        stay = max(len(level) // 3, 1)
        chosen = dict.fromkeys(np.argsort(-ratio)[:stay].tolist())
        if np.isfinite(self._surround):
            chosen |= dict.fromkeys(np.argsort(-level)[: max(stay // 3, 1)].tolist())
        self._places = tuple(self._places[index] for index in chosen)
        self._picked = stay == 1
        self._levels = [place.level for place in self._places]
        if self._picked:
            self._missed = _MISSED * self._places[0].error, _MISSED * self._places[-1].error
            self._places = tuple(place.picked() for place in self._places)
            if np.isfinite(self._surround):
                self._about = self._surround_of(self._places[0])

    def _told(self) -> PlateGlow:
        """What is known so far."""
        mean, mean_error = scatter(self._even)
        if self._picked and all(place.taken for place in self._places):
            # The first is that of the ratio, the last that of the peak, and they may be one.
            spot, top = self._places[0], self._places[-1]
            around, around_error = self._around(spot)
            ratio = spot.level / max(around, 1e-9)
            error = float(np.sqrt(spot.error**2 + around_error**2 + self._missed[0] ** 2))
            # The brightest place is no darker than what is about it.
            brighter = max(zip((spot, top), self._missed, strict=True), key=lambda each: each[0].level)
            peak, peak_error = max(brighter[0].level, around), float(np.hypot(brighter[0].error, brighter[1]))
        elif self._places:
            ratio, error = self.glow.hot_spot_ratio, self.glow.ratio_error
            peak, peak_error = self.glow.peak_cd_m2, self.glow.peak_error
        else:
            ratio, error, peak, peak_error = self._searched()
        told = max(ratio, 1.0), error, peak, peak_error
        return PlateGlow(self.plate.name, *told, mean, mean_error, self.samples)

    def _searched(self) -> tuple[float, float, float, float]:
        """Ratio and peak with their errors before any place has been rendered by itself: known badly."""
        shown = self._shown
        found = []
        for level in (shown.ratio, shown.clean):
            best = int(level.argmax())
            seen = self._seen_at(best)[1]
            # What may have been taken out with chance, or left in.
            off = np.log(max(shown.lenient[best], 1e-9) / max(shown.clean[best], 1e-9))
            found += [float(level[best]), float(np.hypot(seen, off))]
        return found[0], found[1], found[2], found[3]


def _step(plate: Plate, count: int, blur: float, surround: float) -> int:
    """How many pixels apart those lie that stand for a plate; some only where it is large and has no finer detail."""
    finest = min(2.0**EVEN_OCTAVES * blur, surround / 4.0) if plate.even else 1.0
    return max(int(min(finest, np.sqrt(count / _ENOUGH))), 1)


def _round(places: tuple[BrightPlace, ...], levels: list[float], error: float) -> Round:
    """So many samples of some places that the light of most of them, about as bright as told, is known to ``error``."""
    lacks = [place.lacks(error, level) for place, level in zip(places, levels, strict=True)]
    wanted = max(lacks) if len(places) <= _FEW else float(np.median(lacks))
    taken = max(place.taken for place in places)
    # How far a sample scatters is itself a guess: no great leaps by it.
    each = float(np.clip(wanted, max(0.5 * taken, 2 * GROUPS), max(3 * taken, _LEAP))) / GROUPS
    pixels = np.unique(np.concatenate([place.pixels for place in places]))
    dealt = np.zeros(len(pixels))
    for place in places:
        own = np.searchsorted(pixels, place.pixels)
        dealt[own] = np.maximum(dealt[own], place.dealt)
    # Few different numbers: the steady variant renders pixels of the same number together.
    powers = np.round(np.log2(np.maximum(dealt, 1e-9)))
    return Round(pixels, np.maximum(np.ceil(each * 2.0**powers), 1.0).astype(np.int64), places)


def _more(samples: int, excess: float) -> int:
    """Further samples of each group; the error falls with the square root of their number, and is itself a guess."""
    wanted = samples * (max(excess**2 * 1.1, 1.25) - 1.0)
    return int(np.ceil(min(wanted, 3 * samples, _MOST) / GROUPS))


def luminance_of(picture: Singles) -> NDArray[np.float64]:
    """Luminance (...) [cd/m²] of pictures (..., 3) by channel."""
    return np.asarray(picture, np.float64) @ LUMINANCE.astype(np.float64)
