"""Steps of known reflectance in a photograph, which show what its camera does to light.

Either a chart or a grey card whose reflectances are known, or our own sheet: steps of fine black
lines on white paper, drawn by :mod:`stackview.drawings.step_page`. Of those only the drawn share of
black is known. A printer draws each line a little wider than asked, paper scatters light below the
ink, and its black is no black: three unknowns in the fit. The lines may show or run together:
numbers are turned to light pixel by pixel before they are averaged, so either is right; where they
show, a step says less of the camera's curve.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from stackview.arrays import Floats
from stackview.glow.photograph import Photograph, PhotographError
from stackview.glow.tone_curves import from_light

DRAWN_SHARES = (0.0, 1 / 6, 1 / 3, 1 / 2, 2 / 3, 3 / 4, 5 / 6, 1.0)
"""Share of black in the steps of our sheet, in order: twelfths, whole dots of a printer with 600 dots an inch."""
LINE_PITCH = 25.4 / 50.0
"""From one line of a step to the next [mm]: twelve such dots, so that all lines of all steps grow by the same."""
MOST_STEPS, _FEWEST_STEPS = 40, 2
_LEAST_STEP = 6
"""Pixels along the least side of a step."""
_MIDDLE = 0.5
"""Share of a step, each way, that is looked at: its edges may belong to its neighbours."""
_BRIGHTER = 0.02
"""Share of the brightest step by which one may be brighter than the one before: the last of ours may both be black."""
_VALUES = 32
_GAIN, _GAIN_SPREAD = 0.1, 0.07
"""Share by which lines come out too wide at this pitch, 0.025 mm on each side: common practice for office printers."""
_BLACK, _BLACK_SPREAD = 0.05, 0.5
"""Light that printed black gives back over that of the paper, and its spread by logarithm: common practice."""
_SCATTER, _SCATTER_SPREAD = 1.4, 0.25
"""Exponent of Yule and Nielsen (1951): 1 for light that comes out where it went in, 2 where it is scattered wholly."""


class ToneSteps(Protocol):
    """What a fit asks of steps in a photograph."""

    @property
    def values(self) -> Floats:
        """(n, m): m numbers of full scale that stand for all pixels of each of n steps."""
        ...

    @property
    def unknowns(self) -> int:
        """How many numbers :meth:`reflected` needs."""
        ...

    def reflected(self, turned: Floats) -> Floats:
        """Logarithm of the light that each step gives back, but for one height for all, (n,)."""
        ...


@dataclass(frozen=True, slots=True, eq=False)
class KnownSteps:
    """Steps of known reflectance (n,), each above 0."""

    values: Floats
    reflectance: Floats
    unknowns: int = 0

    def reflected(self, turned: Floats) -> Floats:
        """Logarithm of the reflectances (n,); ``turned`` is empty."""
        del turned
        return np.asarray(np.log(self.reflectance))


@dataclass(frozen=True, slots=True, eq=False)
class DrawnSteps:
    """Steps of our own sheet: what a printer makes of the shares that were drawn."""

    values: Floats
    drawn: Floats
    unknowns: int = 3

    def reflected(self, turned: Floats) -> Floats:
        """Logarithm of light over the paper's (n,), for gain, black and scatter in standard deviations (3,).

        R^(1/n) = (1 − a) + a·B^(1/n), a the share of black with the lines' gain (Yule & Nielsen 1951).
        """
        gain = _GAIN + _GAIN_SPREAD * float(turned[0])
        inked = np.where(
            (self.drawn > 0.0) & (self.drawn < 1.0), np.clip(self.drawn + gain, 0.0, 1.0), self.drawn
        )
        black = _BLACK * np.exp(_BLACK_SPREAD * float(turned[1]))
        power = max(1.0, _SCATTER + _SCATTER_SPREAD * float(turned[2]))
        return np.asarray(power * np.log((1.0 - inked) + inked * black ** (1.0 / power)))


def read_steps(photo: Photograph, reflectances: tuple[float, ...] | None) -> ToneSteps:
    """Steps that fill a photograph from end to end along its longer side, the brightest at either end.

    ``reflectances`` (n,) from the brightest on; None for our own sheet.

    Raises
    ------
    PhotographError
        too few or too many steps, steps too small or clipped, or steps that do not darken one after another
    """
    count = len(DRAWN_SHARES) if reflectances is None else len(reflectances)
    if not _FEWEST_STEPS <= count <= MOST_STEPS:
        raise PhotographError(f"{photo.name}: {count} steps; {_FEWEST_STEPS} to {MOST_STEPS} can be read")
    light, clipped = photo.light, photo.clipped
    if light.shape[0] > light.shape[1]:
        light, clipped = light.T, clipped.T
    if min(light.shape[1] / count, light.shape[0]) < _LEAST_STEP:
        raise PhotographError(
            f"{photo.name}: {count} steps in {light.shape[1]} pixels; at least {_LEAST_STEP} for each are needed"
        )
    parts = [_middle(light, number, count) for number in range(count)]
    burnt = [
        bool(_middle(clipped.astype(np.float64), number, count).mean() > 0.02) for number in range(count)
    ]
    means = np.array([part.mean() for part in parts])
    if means[0] < means[-1]:
        parts, burnt, means = parts[::-1], burnt[::-1], means[::-1]
    if any(burnt):
        raise PhotographError(f"{photo.name}: the brightest step is clipped; expose the steps for less")
    if (np.diff(means) > _BRIGHTER * means[0]).any():
        raise PhotographError(
            f"{photo.name}: the steps do not darken one after another; cut out their row alone, "
            "so that it fills the picture from end to end, and light it evenly"
        )
    at = (np.arange(_VALUES) + 0.5) / _VALUES
    values = np.stack([np.quantile(from_light(part.ravel()), at) for part in parts])
    if reflectances is None:
        return DrawnSteps(values, np.array(DRAWN_SHARES))
    known = np.array(reflectances)
    if not ((known > 0.0) & (known <= 1.0)).all() or (np.diff(known) >= 0.0).any():
        raise PhotographError(f"{photo.name}: reflectances must fall from step to step, between 0 and 100%")
    return KnownSteps(values, known)


def _middle(array: Floats, number: int, count: int) -> Floats:
    """The middle of one of ``count`` equal parts side by side."""
    tall, wide = array.shape[0], array.shape[1] / count
    left = number * wide + (1.0 - _MIDDLE) / 2.0 * wide
    top = int((1.0 - _MIDDLE) / 2.0 * tall)
    return np.asarray(
        array[top : max(top + 1, int(tall - top)), int(left) : max(int(left) + 1, int(left + _MIDDLE * wide))]
    )
