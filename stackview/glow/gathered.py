"""What has been rendered of one plate so far, and how well that tells its hot-spot ratio.

Samples are dealt to groups of equal size. The brightest spot is found in the denoised picture; how well it is known
is told by the groups as rendered, where nothing hides what few samples have shown: leaving out one after the
other (jackknife: Efron & Stein 1981). What denoised and rendered differ by, beyond that, counts as error too.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stackview.arrays import Singles
from stackview.glow.blur import masked_blur
from stackview.glow.denoiser import denoised
from stackview.glow.hot_spots import HotSpot, hot_spot
from stackview.glow.parts_seen import PartsSeen
from stackview.glow.plates_seen import Plate
from stackview.light.colour import LUMINANCE

GROUPS = 8
"""Groups that the error is taken from."""
KEPT_WIDTH = 4.0
"""Width over which the denoised picture keeps the light of the rendered one, in those of the eye's blur."""
_MOST = 65_536
"""Samples for each pixel of a plate, at most."""


@dataclass(frozen=True, slots=True)
class PlateGlow:
    """One acrylic layer as it looks from the place; errors are relative standard errors.

    ``samples`` : for each of its pixels.
    """

    layer: str
    hot_spot_ratio: float
    ratio_error: float
    peak_cd_m2: float
    peak_error: float
    mean_cd_m2: float
    mean_error: float
    samples: int


class Gathered:
    """Sums over samples by group in a plate's window.

    Parameters
    ----------
    plate : where it is seen
    groups : (GROUPS, h, w, 3) mean of each group's samples in its window [cd/m²]
    count : (h, w) samples for each pixel there, of all groups together
    samples : those of the plate's own pixels
    seen : clean colours and normals of the whole picture
    blur, surround : standard deviations [px], as for :func:`hot_spot`
    """

    def __init__(
        self,
        plate: Plate,
        groups: NDArray[np.float32],
        count: NDArray[np.float32],
        samples: int,
        seen: PartsSeen,
        blur: float,
        surround: float,
    ) -> None:
        self.plate, self.samples = plate, samples
        self._seen, self._widths = seen, (blur, surround)
        self._count = count.copy()
        self._sums = groups * (self._count / np.float32(GROUPS))[..., None]
        self.glow = self._glow()

    def add(self, groups: NDArray[np.float32], each: int) -> None:
        """Take in a round: for the plate's places (GROUPS, n, 3) means of ``each`` further samples of each group."""
        top, left = (own.start for own in self.plate.window)
        rows, columns = self.plate.places
        self._sums[:, rows - top, columns - left] += groups * np.float32(each)
        self._count[rows - top, columns - left] += each * GROUPS
        self.samples += each * GROUPS
        self.glow = self._glow()

    @property
    def picture(self) -> Singles:
        """Luminance by channel (h, w, 3) in the window, as rendered [cd/m²]."""
        return np.asarray(self._sums.sum(axis=0) / self._count[..., None], np.float32)

    def more(self, error: float) -> int:
        """Samples that the next round takes; the error falls with the square root of their number."""
        excess = self.glow.ratio_error / error
        wanted = self.samples * (max(excess**2 * 1.15, 1.25) - 1.0)
        return int(min(np.ceil(wanted / GROUPS) * GROUPS, 3 * self.samples, _MOST - self.samples))

    def _glow(self) -> PlateGlow:
        """Hot spot of all groups together, with the errors that the groups as rendered tell."""
        pictures = self._sums / (self._count / np.float32(GROUPS))[..., None]
        mask, sigma = self.plate.mask[self.plate.window], KEPT_WIDTH * self._widths[0]
        each = np.stack([luminance_of(picture) for picture in pictures])
        soft = np.stack([masked_blur(own, mask, sigma) for own in each])
        best = self._spot(pictures, soft)
        own = each[:, mask]
        spot, around = (own @ _bell(mask, best.at, width) for width in self._widths)
        whole = own.mean(axis=1)
        return PlateGlow(
            self.plate.name,
            best.ratio,
            _error(best.ratio, _left_out(spot) / np.maximum(_left_out(around), 1e-9)),
            best.peak,
            _error(best.peak, _left_out(spot)),
            best.mean,
            _error(best.mean, _left_out(whole)),
            self.samples,
        )

    def _spot(self, pictures: NDArray[np.float32], soft: NDArray[np.float64]) -> HotSpot:
        """Hot spot of some groups' pictures together; ``soft`` their luminances blurred."""
        window = self.plate.window
        picture, mask = pictures.mean(axis=0), self.plate.mask[window]
        smooth = luminance_of(denoised(picture, self._seen.albedo[window], self._seen.normals[window]))
        match self.plate.sort:
            case "opal":
                return hot_spot(smooth, mask, *self._widths)
            case "sanded":
                kept = level_kept(smooth, soft, mask, KEPT_WIDTH * self._widths[0])
                return hot_spot(kept, mask, *self._widths)
            case "clear" | "opaque":
                # Light points seen sharply are steady as rendered, and the denoiser draws them too
                # bright; but the brightest of thousands of pixels as rendered would be chance.
                expected = hot_spot(smooth, mask, *self._widths)
                return hot_spot(luminance_of(picture), mask, *self._widths, near=expected.at)


def _bell(mask: NDArray[np.bool_], at: tuple[int, int], sigma: float) -> NDArray[np.float64]:
    """Weights of a plate's pixels (n,) in the mean about one of them, by a bell curve of width ``sigma`` [px]."""
    away = ((np.argwhere(mask) - at) ** 2).sum(axis=1)
    weight = np.exp(-0.5 * away / sigma**2) if np.isfinite(sigma) else np.ones(len(away))
    return np.asarray(weight / weight.sum())


def _left_out(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Means of all values (g,) but one, one after the other."""
    return np.asarray((values.sum() - values) / (len(values) - 1.0))


def _error(told: float, left_out: NDArray[np.float64]) -> float:
    """Relative standard error of a figure, from what it is as rendered with one group after the other left out.

    Jackknife: (g − 1)/g · Σ(xᵢ − x̄)². By how much the figure is off the rendered one beyond that is added to it.
    """
    if not told > 0.0:
        return 0.0
    middle, count = left_out.mean(), len(left_out)
    chance = (count - 1.0) / count * ((left_out - middle) ** 2).sum()
    off = max((told - middle) ** 2 - chance, 0.0)
    return float(np.sqrt(chance + off) / told)


def level_kept(
    smooth: NDArray[np.float64], soft: NDArray[np.float64], mask: NDArray[np.bool_], sigma: float
) -> NDArray[np.float64]:
    """Denoised luminance (h, w) brought to the local means of the rendered one, as far as these are known.

    Denoising takes light from spots that few samples have shown, by up to a sixth as measured. Where
    ``soft`` (g, h, w), groups' luminances blurred by ``sigma`` [px] within the mask, differs from the
    denoised one blurred alike, that difference is given back but for the part that chance explains
    (positive-part shrinkage: James & Stein 1961).
    """
    has = np.maximum(masked_blur(smooth, mask, sigma), 1e-12)
    lacks = soft.mean(axis=0) - has
    chance = soft.var(axis=0, ddof=1) / len(soft)
    given = np.maximum(0.0, 1.0 - chance / np.maximum(lacks**2, 1e-12)) * lacks
    return np.asarray(smooth * (1.0 + given / has))


def luminance_of(picture: Singles) -> NDArray[np.float64]:
    """Luminance (h, w) [cd/m²] of a picture (h, w, 3) by channel."""
    return np.asarray(picture, np.float64) @ LUMINANCE.astype(np.float64)
