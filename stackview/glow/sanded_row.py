"""Rows of LEDs behind a sanded sheet, as the spots of ``spot_table`` side by side: which of them were tried.

A sheet adds up the light of the LEDs behind it, so a row is the sum of its spots. Over 18 rows
drawn at random the hot-spot ratio was at worst 5.5 % off the renderer's own pictures, 2.3 % rms;
outside the limits below there is no answer.
"""

from dataclasses import dataclass

from stackview.glow.spot_table import GREATEST_DEPTH, LEAST_DEPTH

ROW_LEAST_ROUGHNESS, ROW_GREATEST_ROUGHNESS = 0.05, 0.5
LEAST_PITCHES, GREATEST_PITCHES = 0.25, 3.0
"""Distance over pitch for which rows were held against the renderer."""


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
