"""Light round a lamp: by bearing no more than its ways bear out, so that a round lamp's light does not vary by chance.

What is known in batches is taken apart into waves round the lamp. A wave is kept as far as it is more than the
batches' scatter explains (positive-part shrinkage: James & Stein 1961); the mean round the lamp, and so all
light, is kept as it is. What the lamp's own symmetry cannot have is left out beforehand: of n-fold symmetry it
keeps waves of n, 2n, … periods, a round one none.
"""

from collections.abc import Sequence

import numpy as np

from stackview.arrays import Floats
from stackview.glow.intensity import Intensity, weights
from stackview.glow.places import STUDENT
from stackview.glow.symmetry import NO_SYMMETRY, Symmetry

_WAVES = 18
"""Waves round a ring of table at most."""
_SURE = 16.0
"""A wave counts from where its square is so many times its variance: four standard errors."""
_ROWS = 7
"""Neighbouring rows whose variance is taken together: that of one row is itself uncertain."""


def kept_share(mean: np.ndarray, variance: Floats) -> Floats:
    """Share (any shape) of each wave that is kept, from its complex mean and that mean's variance."""
    return np.asarray(np.maximum(0.0, 1.0 - _SURE * variance / np.maximum(np.abs(mean) ** 2, 1e-300)))


def ring_round(
    bearing: Floats, lux: Floats, batch: np.ndarray, batches: int, symmetry: Symmetry = NO_SYMMETRY
) -> tuple[float, float, float, float]:
    """Mean round a ring, its standard error, least and most.

    bearing : (n,) [rad]; lux : (n,) what each way adds to the mean of its batch; batch : (n,) its number
    """
    order = np.arange(_WAVES + 1)
    waves = np.zeros((batches, _WAVES + 1), complex)
    for number in range(batches):
        own = batch == number
        waves[number] = (lux[own] * np.exp(-1j * order[:, None] * bearing[own])).sum(axis=1)
    # By e^(−i·order·bearing) the ways are summed up, for that is what a wave's share is.
    waves = symmetry.of_waves(waves)
    mean = waves.mean(axis=0)
    variance = waves.var(axis=0, ddof=1) / batches
    some = variance[1:][variance[1:] > 0.0]
    keep = kept_share(mean, np.full_like(variance, some.mean() if len(some) else 0.0))
    turn = np.linspace(0.0, 2.0 * np.pi, 144, endpoint=False)
    round_it = mean[0].real + 2.0 * ((keep * mean)[1:, None] * np.exp(1j * order[1:, None] * turn)).real.sum(
        axis=0
    )
    error = float(np.sqrt(variance[0]))
    return float(mean[0].real), error, max(float(round_it.min()), 0.0), float(round_it.max())


def evened(grids: Sequence[Intensity], symmetry: Symmetry = NO_SYMMETRY) -> tuple[Intensity, float]:
    """The mean of batches' intensities with chance evened out round the lamp, and its peak's standard error [cd].

    In the error is what was evened out there, as far as it is more than chance explains.
    """
    planes, gammas = grids[0].planes, grids[0].gammas
    candela = np.stack([grid.candela for grid in grids])
    waves = np.fft.rfft(candela, axis=1)
    # Planes are even from C0 on, so that the order is that of waves by bearing.
    waves = symmetry.of_waves(waves.swapaxes(1, 2)).swapaxes(1, 2)
    mean = waves.mean(axis=0)
    variance = waves.var(axis=0, ddof=1) / len(grids)
    pad = _ROWS // 2
    rows = np.pad(variance, ((0, 0), (pad, pad)), mode="edge")
    pooled = np.stack([np.convolve(row, np.full(_ROWS, 1.0 / _ROWS), mode="valid") for row in rows])
    keep = kept_share(mean, pooled)
    keep[0] = 1.0
    each = np.fft.irfft(waves * keep, n=len(planes), axis=1)
    whole = np.maximum(each.mean(axis=0), 0.0)
    solid = weights(planes, gammas)
    # What was held at nought is taken back from the rest of its row.
    had, has = (solid * candela.mean(axis=0)).sum(axis=0), (solid * whole).sum(axis=0)
    whole *= np.where(has > 0.0, had / np.maximum(has, 1e-300), 1.0)
    peak = np.unravel_index(int(whole.argmax()), whole.shape)
    scattered = STUDENT**2 * float(each[:, peak[0], peak[1]].var(ddof=1)) / len(grids)
    gone = (1.0 - keep[:, peak[1]]) ** 2 * (np.abs(mean[:, peak[1]]) ** 2 - pooled[:, peak[1]])
    # A wave's mean square, of two conjugate halves.
    error = float(np.sqrt(scattered + max(2.0 * float(gone.sum()) / len(planes) ** 2, 0.0)))
    return Intensity(planes, gammas, whole), error
