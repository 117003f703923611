"""An endless row of Lambertian LEDs before a sheet, in closed form: a yardstick for estimates and pictures."""

import numpy as np

from stackview.arrays import Floats


def row_profile(place: Floats, distance: float) -> Floats:
    """E/Ē along an endless row of Lambertian LEDs on a sheet square to them.

    Parameters
    ----------
    place : (n,) places along the row, 0 above an LED [pitches]
    distance : from the LEDs to the sheet [pitches], above 0

    The sum Σ 1/((k + u)² + a²)² in closed form: minus the derivative by a of
    Σ 1/((k + u)² + a²) = (π/a)·sinh 2πa/(cosh 2πa − cos 2πu) (Gradshteyn & Ryzhik 1.445,
    from memory), over 2a; and its mean over u, π/(2a³).

    >>> round(float(row_profile(np.array([0.0]), 1.0)[0]), 6)
    1.027297
    """
    turn = 2.0 * np.pi * distance
    # exp, not cosh: it does not overflow far away.
    small = 2.0 * np.exp(-turn) / (1.0 + np.exp(-2.0 * turn))
    wave = np.cos(2.0 * np.pi * np.asarray(place, np.float64))
    gap = 1.0 - small * wave
    return np.asarray(np.tanh(turn) / gap - turn * small * (small - wave) / gap**2)
