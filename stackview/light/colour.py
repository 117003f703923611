"""Colour of warm and cool white light from its colour temperature."""

import numpy as np
from numpy.typing import NDArray

Colour = tuple[float, float, float]
"""Linear sRGB: red, green and blue."""

# Linear sRGB from CIE XYZ, IEC 61966-2-1 (as tabulated to seven figures by B. Lindbloom).
_SRGB_FROM_XYZ = np.array(
    [
        [3.2404542, -1.5371385, -0.4985314],
        [-0.9692660, 1.8760108, 0.0415560],
        [0.0556434, -0.2040259, 1.0572252],
    ]
)
LUMINANCE = np.array([0.2126, 0.7152, 0.0722], np.float32)
"""Share of each linear sRGB channel in the luminance, IEC 61966-2-1."""


def planckian_xy(kelvin: float) -> tuple[float, float]:
    """CIE 1931 chromaticity of a black body at ``kelvin`` [K], held to 1667 to 25,000 K.

    Cubic splines of Kim et al., "Design of advanced color temperature control system for HDTV
    applications", J. Korean Phys. Soc. 41(6), 865 (2002); within 6e-4 of the CIE data.
    """
    t = min(max(float(kelvin), 1667.0), 25000.0)
    if t <= 4000.0:
        x = -0.2661239e9 / t**3 - 0.2343589e6 / t**2 + 0.8776956e3 / t + 0.179910
    else:
        x = -3.0258469e9 / t**3 + 2.1070379e6 / t**2 + 0.2226347e3 / t + 0.240390
    if t <= 2222.0:
        y = -1.1063814 * x**3 - 1.34811020 * x**2 + 2.18555832 * x - 0.20219683
    elif t <= 4000.0:
        y = -0.9549476 * x**3 - 1.37418593 * x**2 + 2.09137015 * x - 0.16748867
    else:
        y = 3.0817580 * x**3 - 5.87338670 * x**2 + 3.75112997 * x - 0.37001483
    return x, y


def light_colour(kelvin: float) -> NDArray[np.float64]:
    """Linear sRGB (3,) of a black body at ``kelvin`` [K], its largest channel 1, none below 0.

    >>> encode(light_colour(3000.0))
    array([255, 184, 109], dtype=uint8)
    """
    x, y = planckian_xy(kelvin)
    rgb = np.clip(_SRGB_FROM_XYZ @ np.array([x / y, 1.0, (1.0 - x - y) / y]), 0.0, None)
    return np.asarray(rgb / rgb.max())


def mean_light_colour(kelvin: NDArray[np.float64], lumens: NDArray[np.float64]) -> Colour:
    """Colour of the light of many light points (n,), by the mean of their colour temperatures [K] over their light."""
    mean = float(np.average(kelvin, weights=np.maximum(lumens, 1e-9)))
    red, green, blue = (float(channel) for channel in light_colour(mean))
    return red, green, blue


def encode(linear: NDArray[np.floating], rounding: NDArray[np.floating] | float = 0.5) -> NDArray[np.uint8]:
    """8-bit sRGB of linear values 0 to 1, any shape (IEC 61966-2-1 transfer).

    ``rounding`` 0 to 1 is added before the fraction is cut off; a pattern of it, in place of
    plain rounding, hides the steps of gentle gradients.
    """
    held = np.clip(linear, 0.0, 1.0)
    coded = np.where(held <= 0.0031308, 12.92 * held, 1.055 * np.power(held, 1 / 2.4) - 0.055)
    return np.asarray(np.minimum(coded * 255.0 + rounding, 255.0), np.uint8)
