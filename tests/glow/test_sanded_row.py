"""Rows behind sanded sheets: against the renderer, against outside trials, and limits."""

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stackview.glow.offcut import SandedSides
from stackview.glow.sanded_row import LedRow, outside
from stackview.glow.spot_table import spot_of_face

RESIDUAL = 0.08
"""Share by which a ratio may differ from the renderer's."""
PLACES = 128


@dataclass(frozen=True, slots=True)
class Spotty:
    """Brightest place of the row over the mean along it, and the ripple's first harmonic over the mean."""

    ratio: float
    modulation: float


def sanded_row(row: LedRow, roughness: float, sanded: SandedSides = "both") -> Spotty:
    """Hot-spot ratio and ripple of a row behind a sanded sheet; the eye looks straight on and is near."""
    pitch, face = row.pitch / row.distance, row.face / row.distance
    depth = row.thickness / row.distance
    place = np.arange(PLACES) / PLACES - 0.5
    number = np.arange(-int(np.ceil(12.0 / pitch)), int(np.ceil(12.0 / pitch)) + 1)
    away = np.abs(place[:, None] - number) * pitch
    light = spot_of_face(away, roughness, depth, sanded, face).sum(axis=1)
    mean = float(light.mean())
    wave = float((light * np.cos(2.0 * np.pi * place)).mean())
    return Spotty(float(light.max()) / mean, max(2.0 * wave / mean, 0.0))


def ratio(row: LedRow, roughness: float) -> float:
    assert outside(row, roughness) is None
    return sanded_row(row, roughness).ratio


# Trials of another hand with the same renderer: rows behind plates 4 to 5 mm thick, sanded on both
# sides; pitch and LED size are not on record, so the comparison is loose.
TRIALS = [
    (0.1, (5.9, 4.8, 3.1)),
    (0.3, (4.0, 2.4, 1.3)),
    (0.5, (3.0, 1.7, 1.1)),
]


@pytest.mark.parametrize(("roughness", "ratios"), TRIALS)
def test_rows_come_near_earlier_trials(roughness: float, ratios: tuple[float, ...]) -> None:
    found = [ratio(LedRow(20.0, over * 20.0, 4.5, 1.75), roughness) for over in (0.5, 1.0, 2.0)]
    assert found == pytest.approx(ratios, rel=0.2)


def test_rough_faces_far_away_come_to_the_full_diffuser() -> None:
    # A full diffuser at d/p = 2 has no ripple left (closed sum 1.000); roughness 0.5 is near it at 3.
    assert ratio(LedRow(10.0, 30.0, 4.5), 0.5) < 1.06


@given(st.floats(0.06, 0.4), st.floats(1.1, 1.25), st.floats(0.5, 2.8))
def test_rougher_or_farther_is_less_spotty(roughness: float, more: float, over: float) -> None:
    row = LedRow(12.0, 12.0 * over, 4.0, 1.5)
    assert ratio(row, roughness * more) < ratio(row, roughness) * 1.01
    farther = LedRow(12.0, 12.0 * min(over * more, 3.0), 4.0, 1.5)
    assert ratio(farther, roughness) < ratio(row, roughness) * 1.01


def test_only_proportions_count() -> None:
    assert ratio(LedRow(10.0, 8.0, 4.0, 1.0), 0.2) == pytest.approx(ratio(LedRow(25.0, 20.0, 10.0, 2.5), 0.2))


def test_larger_leds_are_less_spotty() -> None:
    assert ratio(LedRow(10.0, 8.0, 4.0, 2.0), 0.1) < ratio(LedRow(10.0, 8.0, 4.0, 0.5), 0.1)


@given(st.floats(0.05, 0.5), st.floats(0.3, 2.9))
def test_ratio_and_ripple_belong_together(roughness: float, over: float) -> None:
    # For an even, peaked wave: 1 + first harmonic ≤ …; at least the ratio is 1 + half of it, and it is ≤ 2.
    found = sanded_row(LedRow(12.0, 12.0 * over, 4.0, 1.0), roughness)
    assert 0.0 <= found.modulation <= 2.0
    assert found.ratio >= 1.0 + 0.5 * found.modulation - 1e-9


@pytest.mark.parametrize(
    ("row", "roughness", "word"),
    [
        (LedRow(10.0, 10.0, 4.0), 0.04, "roughness"),
        (LedRow(10.0, 10.0, 4.0), 0.55, "roughness"),
        (LedRow(10.0, 2.0, 1.0), 0.2, "distance"),
        (LedRow(10.0, 40.0, 4.0), 0.2, "distance"),
        (LedRow(10.0, 10.0, 14.0), 0.2, "thickness"),
    ],
)
def test_outside_the_table_there_is_no_answer(row: LedRow, roughness: float, word: str) -> None:
    assert word in str(outside(row, roughness))


@pytest.mark.parametrize(("roughness", "over"), [(0.15, 0.5), (0.3, 1.0), (0.45, 0.6)])
def test_rows_are_what_the_renderer_gives(roughness: float, over: float) -> None:
    """A fresh picture of 61 LEDs behind a sheet, folded over four pitches."""
    pytest.importorskip("mitsuba")
    from stackview.glow.engine import built, photographed
    from stackview.glow.offcut import Offcut, offcut_scene
    from stackview.glow.room import DARK
    from stackview.sight.camera import Camera

    pitch, face, bins = 14.0, 1.5, 16
    row = LedRow(pitch, pitch * over, 4.0, face)
    leds = np.column_stack([(np.arange(61) - 30) * pitch, np.zeros(61)])
    offcut = Offcut(row.distance, row.thickness, roughness, "both", 1200.0)
    wide, tall = 4 * bins, 2
    high = 4.0 * pitch * tall / wide
    camera = Camera(
        0.0, 90.0, 9000.0, (0.0, 0.0, 4.0), float(np.degrees(2 * np.arctan(high / 2 / 9000.0))), (wide, tall)
    )
    picture = photographed(built(offcut_scene(offcut, leds, face), DARK), camera, 1024, 99)[..., 1]
    line = picture.mean(axis=0).reshape(4, bins).mean(axis=0)
    # The picture's middle is over an LED; its bins lie half a bin to either side of it.
    place = ((np.arange(bins) + 0.5) / bins + 0.5) % 1.0 - 0.5
    peak = line[np.abs(place) < 1.0 / bins].mean()
    assert peak / line.mean() == pytest.approx(ratio(row, roughness), rel=RESIDUAL)
