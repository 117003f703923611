"""From where an eye no longer tells the spots of a row apart.

A pattern that repeats every p at distance D has D·tan 1°/p cycles in a degree. It is seen while its
modulation is above the eye's threshold at that frequency, 1/S. S is P. G. J. Barten's closed form
("Formula for the contrast sensitivity of the human eye", Proc. SPIE 5294, 2003, eq. 11; seen
second-hand), the mean of many observers at 50 % seen, in keeping with Campbell & Robson (1968), who
found the finest grating of full contrast near 60 cycles in a degree.
"""

from math import inf, radians, sqrt, tan

import numpy as np

_LUMINANCE = 100.0
"""Of the lit plate as the eye is used to it [cd/m²]: an assumption."""
_FIELD = 5.0
"""Width of the lit pattern [°]: an assumption; it hardly matters above 2 cycles per degree."""
FARTHEST_MERGED = 50_000.0
"""No answer beyond this [mm]: no room is larger."""

VAGUE_FROM, UNKNOWN_FROM = 0.15, 0.4
"""Relative standard errors of a ratio from which its word is a rough one, and none."""
EVEN, SOFT, SPOTS = 1.3, 2.0, 4.0
"""Hot-spot ratios at which the words change: ours, untested on people."""


def sensitivity(frequency: float, luminance: float = _LUMINANCE, field: float = _FIELD) -> float:
    """Contrast sensitivity of the eye, one over the least modulation that it sees.

    Parameters
    ----------
    frequency : cycles per degree, above 0
    luminance : [cd/m²]; field : width of the pattern [°]

    >>> sensitivity(4.0) > 100, sensitivity(40.0) > 1 > sensitivity(60.0)
    (True, True)
    """
    square = frequency * frequency
    optics = np.exp(-0.0016 * square * (1.0 + 100.0 / luminance) ** 0.08)
    noise = 63.0 / luminance**0.83 + 1.0 / (1.0 - np.exp(-0.02 * square))
    return float(5200.0 * optics / sqrt((1.0 + 144.0 / field**2 + 0.64 * square) * noise))


def merges_at(pitch: float, modulation: float) -> float:
    """Distance from which a ripple is no longer seen [mm]; 0 where it never is.

    Parameters
    ----------
    pitch : of the spots as the eye sees them [mm]
    modulation : amplitude of the ripple's first harmonic over its mean, 0 to 2 (2 for points on black)

    The distance at which 1/S, above the frequency of the eye's best sight, has risen to the
    modulation; infinite beyond :data:`FARTHEST_MERGED`.

    >>> merges_at(10.0, 0.0)
    0.0
    """
    frequencies = np.geomspace(0.5, 200.0, 2000)
    seen = np.array([modulation * sensitivity(f) for f in frequencies]) >= 1.0
    if not seen.any():
        return 0.0
    limit = float(frequencies[np.flatnonzero(seen)[-1]])
    distance = limit * pitch / tan(radians(1.0))
    return distance if distance <= FARTHEST_MERGED else inf


def word_for(ratio: float) -> str:
    """A hot-spot ratio in a word: under 1.3 even, to 2 soft, to 4 spots, above single LEDs.

    >>> word_for(1.1), word_for(1.3), word_for(3.0), word_for(71.0)
    ('even', 'soft', 'spots', 'single LEDs')
    """
    for limit, word in ((EVEN, "even"), (SOFT, "soft"), (SPOTS, "spots")):
        if ratio < limit:
            return word
    return "single LEDs"


def word_known(ratio: float, error: float) -> str:
    """The same word where the ratio's relative standard error allows one.

    >>> word_known(3.5, 0.05), word_known(3.5, 0.29), word_known(4.0, 5.0)
    ('spots', 'about spots', 'not known yet')
    """
    if error > UNKNOWN_FROM:
        return "not known yet"
    return word_for(ratio) if error <= VAGUE_FROM else f"about {word_for(ratio)}"
