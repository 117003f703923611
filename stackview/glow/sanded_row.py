"""How spotty a row of LEDs looks behind a sanded sheet: the spots of ``spot_table`` side by side.

A sheet adds up the light of the LEDs behind it, so a row is the sum of its spots. The eye looks
straight on and tells everything apart (it is near); the LEDs are as large as they are. The
renderer's own pictures of rows, with other seeds and sheets, agree within
:data:`RESIDUAL`; outside the limits below there is no answer.
"""

from dataclasses import dataclass

import numpy as np

from stackview.glow.offcut import SandedSides
from stackview.glow.spot_table import (
    GREATEST_DEPTH,
    LEAST_DEPTH,
    spot_of_face,
)

ROW_LEAST_ROUGHNESS, ROW_GREATEST_ROUGHNESS = 0.05, 0.5
LEAST_PITCHES, GREATEST_PITCHES = 0.25, 3.0
"""Distance over pitch for which rows were held against the renderer."""
RESIDUAL = 0.08
"""Share by which a ratio may differ from the renderer's; over 18 rows drawn at random the worst was 5.5 %, the rms 2.3 %."""
_PLACES = 128


@dataclass(frozen=True, slots=True)
class LedRow:
    """A straight row of LEDs at ``pitch`` behind a sheet at ``distance``; all [mm].

    ``distance`` is from the LEDs' faces to the sheet's near face; ``face`` is the radius of a disc
    as large as an LED's face.
    """

    pitch: float
    distance: float
    thickness: float
    face: float = 0.0


@dataclass(frozen=True, slots=True)
class Spotty:
    """Brightest place of the row over the mean along it, and the ripple's first harmonic over the mean."""

    ratio: float
    modulation: float


def outside(row: LedRow, roughness: float) -> str | None:
    """Why the table says nothing about a row, in words; None where it does."""
    over, depth = row.distance / row.pitch, row.thickness / row.distance
    for what, value, low, high in (
        ("a roughness", roughness, ROW_LEAST_ROUGHNESS, ROW_GREATEST_ROUGHNESS),
        ("a distance over pitch", over, LEAST_PITCHES, GREATEST_PITCHES),
        ("a thickness over distance", depth, LEAST_DEPTH, GREATEST_DEPTH),
    ):
        if not low - 1e-9 <= value <= high + 1e-9:
            return f"{what} of {value:.3g} is outside what was measured, {low:g} to {high:g}"
    return None


def sanded_row(row: LedRow, roughness: float, sanded: SandedSides = "both") -> Spotty | None:
    """Hot-spot ratio and ripple of a row behind a sanded sheet; None outside the table (see :func:`outside`)."""
    if outside(row, roughness) is not None:
        return None
    pitch, face = row.pitch / row.distance, row.face / row.distance
    depth = row.thickness / row.distance
    place = np.arange(_PLACES) / _PLACES - 0.5
    number = np.arange(-int(np.ceil(12.0 / pitch)), int(np.ceil(12.0 / pitch)) + 1)
    away = np.abs(place[:, None] - number) * pitch
    light = spot_of_face(away, roughness, depth, sanded, face).sum(axis=1)
    mean = float(light.mean())
    wave = float((light * np.cos(2.0 * np.pi * place)).mean())
    return Spotty(float(light.max()) / mean, max(2.0 * wave / mean, 0.0))
