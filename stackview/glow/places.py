"""Places of a plate that may be its brightest: what has been rendered of each, and how well that is known.

The error is the scatter of groups of samples, all together or pixel by pixel, whichever is more, for that of eight
numbers alone is now and then far too small. And one thing more: the brightest sample counts as if it might have come
once more or not at all, for light that comes rarely is not told by the scatter of samples that have mostly missed it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from stackview.arrays import Floats, Whole

STUDENT = 1.08
"""A standard error from eight groups is made so much wider, to hold in 68 of 100 cases (Student's t, 7 degrees)."""


def scatter(light: Floats, weight: Floats | None = None) -> tuple[float, float]:
    """Weighted mean of light (groups, n), and its relative error; a mean of nought is not known at all.

    ``weight`` (n,) adds up to one; all alike without it.
    """
    groups, count = light.shape
    share = np.full(count, 1.0 / count) if weight is None else weight
    means = light @ share
    mean = float(means.mean())
    if mean <= 0.0:
        return 0.0, 1.0
    more = float(((light - mean) * share).max()) / groups
    return mean, STUDENT * float(np.sqrt(_variance(light, share) / groups + max(more, 0.0) ** 2)) / mean


def _variance(light: Floats, weight: Floats) -> float:
    """Variance of the weighted mean of light (groups, n) from group to group."""
    by_pixel = float((weight**2) @ light.var(axis=0, ddof=1))
    return max(float((light @ weight).var(ddof=1)), by_pixel)


@dataclass(slots=True, eq=False)
class BrightPlace:
    """One place, as the eye blurs it, or several side by side, of which the brightest is meant.

    pixels : (k,) of the plate; weights : (places, k) for each of them, which add up to one.
    """

    pixels: Whole
    weights: Floats
    _each: Floats = field(default_factory=lambda: np.zeros(1))
    """Samples of each pixel (k,) in each group that its light is read from."""
    _total: Floats = field(default_factory=lambda: np.zeros((1, 1)))
    _spread: list[tuple[float, float]] = field(default_factory=list)
    """Variances of one sample [(cd/m²)²], round by round, and how many samples, dealt out by weight, each round is worth."""
    _before: list[tuple[float, float]] = field(default_factory=list)

    def take(self, light: Floats, each: int | Whole) -> None:
        """Take in the means (groups, k) of so many samples of each group, of every pixel or of each (k,)."""
        first, counts = not self.taken, np.broadcast_to(each, self.pixels.shape).astype(np.float64)
        self._total = light * counts if first else self._total + light * counts
        self._each = counts if first else self._each + counts
        weight = self.weights[self.best]
        worth = 1.0 / float((weight**2 / counts).sum())
        self._spread.append((_variance(light, weight) * worth, worth))

    @property
    def taken(self) -> float:
        """Samples of each pixel that its light is read from, in the mean."""
        return float(self._each.mean()) * len(self._total)

    @property
    def best(self) -> int:
        """Which of the places is the brightest."""
        if len(self.weights) == 1 or not self.taken:
            return 0
        return int((self._total.sum(axis=0) / self._each @ self.weights.T).argmax())

    @property
    def middle(self) -> int:
        """Number of the pixel that weighs most in the brightest."""
        return int(self.pixels[self.weights[self.best].argmax()])

    def picked(self) -> "BrightPlace":
        """The brightest alone, its light to be read from samples yet to come: those so far had their part in picking it."""
        own = np.flatnonzero(self.weights[self.best])
        return BrightPlace(
            self.pixels[own], self.weights[[self.best]][:, own], _before=self._before + self._spread
        )

    @property
    def level(self) -> float:
        """Its luminance [cd/m²]; 0 before any samples."""
        if not self.taken:
            return 0.0
        return float((self._total.mean(axis=0) / self._each) @ self.weights[self.best])

    def one_sample(self, level: float) -> float:
        """Relative standard deviation of a single sample; ``level`` stands for its luminance.

        By all samples or by those it is read from, whichever scatter more.
        """
        known = [np.array(rounds) for rounds in (self._before + self._spread, self._spread) if rounds]
        variance = max(float(np.average(values[:, 0], weights=values[:, 1])) for values in known)
        return float(np.sqrt(variance)) / max(level, 1e-9)

    @property
    def error(self) -> float:
        """Relative error of its luminance."""
        level = self.level
        if not level > 0.0:
            return 1.0
        groups, weight = len(self._total), self.weights[self.best]
        more = float(((self._total / self._each - level) * weight).max()) / groups / level
        return STUDENT * float(np.hypot(self.one_sample(level) / np.sqrt(self._worth), max(more, 0.0)))

    @property
    def _worth(self) -> float:
        """How many samples those taken are worth, dealt out by weight."""
        return (
            len(self._total) / float((self.weights[self.best] ** 2 / self._each).sum()) if self.taken else 0.0
        )

    @property
    def dealt(self) -> Floats:
        """How samples are best dealt to its pixels (k,), in the mean one: by weight, all alike while places are compared."""
        if len(self.weights) > 1:
            return np.ones(len(self.pixels))
        return np.asarray(self.weights[0] * len(self.pixels))

    def lacks(self, error: float, level: float) -> float:
        """Samples of each pixel, in the mean, that its luminance lacks to be known to ``error``; it is about ``level``."""
        wanted = (self.one_sample(self.level or level) / error) ** 2 - self._worth
        weight = self.weights[self.best if self.taken else 0]
        return wanted * float((weight**2 / np.maximum(self.dealt, 1e-9)).sum())


def apart(
    level: Floats, rows: Whole, columns: Whole, least: float, most: int, but: Sequence[int] = ()
) -> list[int]:
    """Numbers of the greatest of levels (n,), at most so many, and none that is not above nought.

    Each lies no nearer than ``least`` [px] to those before it and to those of ``but``.
    """
    left = level.astype(np.float64).copy()
    found: list[int] = []

    def leave_out(one: int) -> None:
        left[(rows - rows[one]) ** 2 + (columns - columns[one]) ** 2 <= least**2] = 0.0

    for one in but:
        leave_out(one)
    while len(found) < most:
        best = int(left.argmax())
        if not left[best] > 0.0:
            break
        found.append(best)
        leave_out(best)
    return found
