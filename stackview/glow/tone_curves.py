"""What a camera does to light before it saves it: curves like those that cameras have, and how these differ.

A photograph's number says how much light there was only by the camera's tone curve, which phones do
not tell. All curves here are written against one yardstick, sRGB (IEC 61966-2-1): the logarithm of
the light that a number stands for is that of sRGB plus a deviation. Deviations of a family of curves
(powers, S-shaped contrast, shoulders, logarithms) are put in order by how much they differ
(principal components, as Grossberg and Nayar 2003 did with measured curves; the family is ours: an
assumption, not a measurement), so that a few numbers of about one standard deviation each stand for
any of them.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from stackview.arrays import Floats

_LEAST = 1.0 / 512.0
_PLACES = 256
_KEPT = 6
"""Directions that are kept: what the family leaves over in the others is under a hundredth of its variance."""
_WIDER = 1.6
"""The family's spread times this: no family holds every camera."""
_LEAST_SPREAD = 0.15
"""Root mean square of what each direction may at least add to the logarithm of light."""


@dataclass(frozen=True, slots=True, eq=False)
class ToneFamily:
    """Curves that a camera may have. Read-only.

    ``value`` (n,) is the number in the file as a share of full scale, rising; ``standard`` (n,) the logarithm of
    the light that it stands for by sRGB; ``mean`` (n,) how the family deviates from that, and
    ``directions`` (n, m) how its curves do from each other, each one standard deviation.
    """

    value: Floats
    standard: Floats
    mean: Floats
    directions: Floats

    def __post_init__(self) -> None:
        for array in (self.value, self.standard, self.mean, self.directions):
            array.setflags(write=False)

    def light_of(self, turned: Floats, share: float = 1.0) -> Floats:
        """Logarithm of light (n,) at every ``value`` for deviations (m,) in standard deviations; it always rises.

        ``share`` of the whole family's deviation: 1 where nothing is known, 0 for sRGB itself.
        """
        level = self.standard + share * (self.mean + self.directions @ turned)
        return np.asarray(np.maximum.accumulate(level) + 1e-6 * self.value)


def from_light(light: Floats) -> Floats:
    """Light 0 to 1 → sRGB values 0 to 1 (IEC 61966-2-1).

    >>> round(float(from_light(np.array([0.21404114]))[0]), 6)
    0.5
    """
    steep = 1.055 * np.maximum(light, 1e-12) ** (1.0 / 2.4) - 0.055
    return np.asarray(np.where(light <= 0.0031308, 12.92 * light, steep))


def to_light(values: Floats) -> Floats:
    """SRGB values 0 to 1 → light 0 to 1 (IEC 61966-2-1).

    >>> round(float(to_light(np.array([0.5]))[0]), 8)
    0.21404114
    """
    return np.asarray(np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4))


@cache
def tone_family() -> ToneFamily:
    """The family that a photograph of unknown tone curve is fitted with."""
    value = np.linspace(_LEAST, 1.0, _PLACES)
    standard = np.log(to_light(value))
    light = np.geomspace(1e-8, 4.0, 4000)
    deviations = np.stack([_inverse(value, light, made) - standard for made in _curves(light)])
    deviations -= deviations[:, -1:]
    mean = deviations.mean(axis=0)
    ways, scale = _principal(deviations - mean)
    return ToneFamily(value, standard, mean, np.ascontiguousarray((ways * scale[:, None]).T))


def _principal(deviations: Floats) -> tuple[Floats, Floats]:
    """The directions (k, n) in which deviations (m, n) differ most, and one standard deviation along each."""
    squares, mixed = np.linalg.eigh(deviations @ deviations.T)
    chosen = np.argsort(squares)[::-1][:_KEPT]
    spread = np.sqrt(squares[chosen])
    least = _LEAST_SPREAD * np.sqrt(_PLACES)
    scale = np.maximum(_WIDER * spread / np.sqrt(len(deviations) - 1), least)
    return (mixed[:, chosen].T @ deviations) / spread[:, None], scale


def _inverse(value: Floats, light: Floats, made: Floats) -> Floats:
    """Logarithm of the light that gives each value, of a rising curve."""
    return np.asarray(np.interp(value, made, np.log(light)))


def _curves(light: Floats) -> list[Floats]:
    """The family: values that cameras make of light, none of them measured."""
    found = []
    for power in (0.8, 1.0, 1.25):
        for shoulder in (0.0, 0.0, 1.0, 3.0):
            # A shoulder bends highlights as x(1 + s)/(1 + s·x) does.
            bent = light**power
            plain = from_light(bent * (1.0 + shoulder) / (1.0 + shoulder * bent))
            found += [_contrasted(plain, strength) for strength in (-0.2, 0.0, 0.35, 0.7)]
    for steep in (10.0, 30.0, 100.0, 300.0, 1000.0, 3000.0):
        found.append(np.log1p(steep * light) / np.log1p(steep))
    return found


def _contrasted(value: Floats, strength: float) -> Floats:
    """An S of contrast about the middle, mixed with the straight line; straight on beyond full scale."""
    held = np.clip(value, 0.0, 1.0)
    curve = (1.0 - strength) * held + strength * held * held * (3.0 - 2.0 * held)
    return np.asarray(curve + 0.5 * np.maximum(value - 1.0, 0.0))
