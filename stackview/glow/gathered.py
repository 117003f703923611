"""What has been rendered of one plate so far, and how well that tells its hot-spot ratio.

All of the plate first (of a large one that spreads its light only pixels that lie apart), which tells its mean, the surround
of each place, and where it may be brightest. Then those places alone, of which two thirds are left out each time (after
successive halving: Karnin, Koren & Somekh 2013). What is told of the brightest is read from samples that were taken after
it had been picked, so that luck has no part in it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles, Whole
from stackview.glow.places import BrightPlace
from stackview.glow.plates_seen import Plate
from stackview.glow.seen_light import LOTS
from stackview.glow.spot_words import IN_THE_DARK, UNKNOWN_FROM, word_known
from stackview.glow.whole_plate import WholePlate
from stackview.light.colour import LUMINANCE
from stackview.light.evening import ROOM_LUMINANCE

GROUPS = LOTS
"""Groups that the samples of a round are dealt to, and that the error is taken from."""
_FIRST, _FIRST_WAYS = 64, 600_000
"""Samples of each pixel in the first round, fewer where the plate has so many pixels that they would be more ways."""
_FEW = 5
"""So few places that each is to be known before the last are left out."""
_TRIAL, _LAST, _AROUND = 1.25, 0.5, 0.5
"""Errors of the places while they are compared, of the brightest one and of its surround, over the one asked for."""
_MISSED = 0.5
"""What the picked place may lack against the brightest in truth, over the error with which places were compared."""
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

    @property
    def looks(self) -> str:
        """In a word where the errors allow one: dark where nothing is brighter than the room of an evening."""
        most = self.peak_cd_m2 * (1.0 + 3.0 * self.peak_error)
        if self.peak_error <= UNKNOWN_FROM and most < ROOM_LUMINANCE:
            return IN_THE_DARK
        return word_known(self.hot_spot_ratio, self.ratio_error)


def dark(layer: str) -> PlateGlow:
    """A plate of a lamp whose light points give no light: known without looking."""
    return PlateGlow(layer, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0)


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


class Gathered:
    """Samples of one plate, round after round.

    Parameters
    ----------
    plate : where it is seen
    blur, surround : standard deviations [px], as for :func:`stackview.glow.hot_spots.hot_spot`
    """

    def __init__(self, plate: Plate, blur: float, surround: float) -> None:
        self._name = plate.name
        self.whole = WholePlate(plate, blur, surround)
        self._finite = bool(np.isfinite(surround))
        count = len(self.rows)
        self.picture, self.count = np.zeros((count, 3), np.float32), np.zeros(count, np.float32)
        """Luminance by channel (n, 3) of its pixels as rendered [cd/m²], and how many samples (n,) that is the mean of."""
        self._places: tuple[BrightPlace, ...] = ()
        self._levels: list[float] = []
        """Of the places, as they were when these were chosen [cd/m²]."""
        self._about: BrightPlace | None = None
        """The surround of the picked place, where that is not all of the plate."""
        self._picked, self._missed = False, (0.0, 0.0)
        self._asked = 1.0
        self.glow = PlateGlow(plate.name, 1.0, 1.0, 0.0, 1.0, 0.0, 1.0, 0)

    @property
    def rows(self) -> Whole:
        """Of its pixels (n,) in the picture."""
        return self.whole.rows

    @property
    def columns(self) -> Whole:
        """Of its pixels (n,) in the picture."""
        return self.whole.columns

    @property
    def samples(self) -> int:
        """Of each pixel, while all of the plate was rendered."""
        return self.whole.samples

    def wants(self, error: float) -> Round | None:
        """What to render next until the ratio is known to ``error``; None once it is."""
        self._asked = error
        if not self.samples:
            return self._all(int(np.clip(_FIRST_WAYS // len(self.whole.over), GROUPS, _FIRST)) // GROUPS)
        if not self._places:
            lacks = self._search_lacks(error)
            if lacks:
                return self._all(lacks)
            self._places, self._levels = self.whole.candidates()
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
            self.whole.take(of, each, searched=bool(self._places))
        for place in one.places:
            own = np.searchsorted(one.pixels, place.pixels)
            place.take(of[:, own], one.counts[own])
        if one.places and not self._picked and self._compared():
            self._leave_out()
        self.glow = self._told()

    def _all(self, each: int) -> Round:
        return Round(self.whole.over, max(each, 1))

    def _some(self, error: float) -> Round:
        return _round(self._places, self._levels, error)

    def _search_lacks(self, error: float) -> int:
        """Further samples of each group of the whole plate before its places are compared."""
        mean = self.whole.mean[1] / (_AROUND * error)
        spot, most = self.whole.search_lacks(error)
        each = _more(self.samples, mean) if mean > 1.05 and self.samples < _MOST else 0
        left = (most - self.samples) // GROUPS
        return max(each, min(_more(self.samples, spot), left) if spot > 1.05 else 0)

    def _around(self, place: BrightPlace) -> tuple[float, float]:
        """Luminance about a place [cd/m²], and its relative error."""
        if self._about is not None:
            return self._about.level, self._about.error
        return self.whole.around(place)

    def _compared(self) -> bool:
        """Whether the places have the samples that comparing them takes: many of them have after one round."""
        few = len(self._places) <= _FEW
        # No worse, or what the picked place may lack and its surround would be all of the error asked for.
        return not few or all(
            place.error <= _TRIAL * self._asked or place.taken >= _MOST / 2 for place in self._places
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
        if self._finite:
            chosen |= dict.fromkeys(np.argsort(-level)[: max(stay // 3, 1)].tolist())
        self._places = tuple(self._places[index] for index in chosen)
        self._picked = stay == 1
        self._levels = [place.level for place in self._places]
        if self._picked:
            self._missed = _MISSED * self._places[0].error, _MISSED * self._places[-1].error
            self._places = tuple(place.picked() for place in self._places)
            if self._finite:
                self._about = self.whole.surround_of(self._places[0])

    def _told(self) -> PlateGlow:
        """What is known so far."""
        mean, mean_error = self.whole.mean
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
        return PlateGlow(self._name, *told, mean, mean_error, self.samples)

    def _searched(self) -> tuple[float, float, float, float]:
        """Ratio and peak with their errors before any place has been rendered by itself: known badly."""
        shown = self.whole.shown
        found = []
        for level in (shown.ratio, shown.clean):
            best = int(level.argmax())
            seen = self.whole.seen_at(best)[1]
            # What may have been taken out with chance, or left in.
            off = np.log(max(shown.lenient[best], 1e-9) / max(shown.clean[best], 1e-9))
            found += [float(level[best]), float(np.hypot(seen, off))]
        return found[0], found[1], found[2], found[3]


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
